package site

import (
	"slices"
	"strconv"
	"strings"

	"labsite/recipes/sheet"
	"labsite/recipes/source"
)

// headKeys are the keys of a page that lists of pages, sections and the document register
// show; with them alone a section can be written before its pages are read in full.
var headKeys = []string{"title", "summary", "audience", "topics", "order", "control"}

// readHead reads those keys alone. It gives nil where anything about them is out of the
// ordinary: the page must then be read in full. What it gives is what reading in full
// would, as head_test.go holds it to.
func readHead(file *source.File) *sheet.Sheet {
	rest, ok := strings.CutPrefix(file.Text, "---\n")
	if !ok {
		return nil
	}
	sh := &sheet.Sheet{File: file}
	seen := map[string]bool{}
	var kept strings.Builder // the lines of the keys that only YAML can read, at their places
	hard := false
	key := ""
	kept.WriteString("---\n")
	for {
		line, after, more := strings.Cut(rest, "\n")
		if !more {
			return nil
		}
		rest = after
		if strings.TrimRight(line, " \t") == "---" {
			break
		}
		switch c := first(line); {
		case c >= 'a' && c <= 'z':
			name, value, is := strings.Cut(line, ":")
			if !is || !plainName(name) || seen[name] || strings.HasPrefix(strings.TrimLeft(value, " "), "&") {
				return nil
			}
			seen[name], key = true, name
			if slices.Contains(headKeys, key) {
				if !continues(rest) && simpleHead(sh, key, value) {
					key = "" // done with
				} else {
					hard = true
				}
			}
		case c == 0 || c == ' ' || c == '#':
		default:
			return nil
		}
		if slices.Contains(headKeys, key) {
			kept.WriteString(line)
		}
		kept.WriteByte('\n')
	}
	if hard {
		kept.WriteString("---\n")
		cut, list := source.New(file.Path, []byte(kept.String()))
		full, more := sheet.DecodeWith(cut, nil)
		if full == nil || len(list) > 0 {
			return nil
		}
		for _, d := range more {
			if d.Code != "missing-key" {
				return nil
			}
		}
		if sh.Title == "" {
			sh.Title = full.Title
		}
		if sh.Summary == "" {
			sh.Summary = full.Summary
		}
		if sh.Audience == "" {
			sh.Audience = full.Audience
		}
		if !sh.HasOrder {
			sh.Order, sh.HasOrder = full.Order, full.HasOrder
		}
		if sh.Topics == nil {
			sh.Topics = full.Topics
		}
		sh.Control = full.Control
	}
	if sh.Title == "" || sh.Audience == "" {
		return nil
	}
	return sh
}

func first(line string) byte {
	if line == "" {
		return 0
	}
	return line[0]
}

// continues tells whether the lines that follow belong to the value of the line before.
func continues(rest string) bool {
	for {
		line, after, more := strings.Cut(rest, "\n")
		switch first(line) {
		case ' ', '\t':
			return true
		case '-':
			return !strings.HasPrefix(line, "---")
		case 0, '#':
			if !more {
				return false
			}
			rest = after
		default:
			return false
		}
	}
}

func plainName(name string) bool {
	return strings.Trim(name, "abcdefghijklmnopqrstuvwxyz_") == ""
}

// simpleHead takes a value that stands on one line and means in YAML what it looks like.
func simpleHead(sh *sheet.Sheet, key, value string) bool {
	if !strings.HasPrefix(value, " ") {
		return false
	}
	value = strings.TrimSpace(value)
	switch key {
	case "title":
		sh.Title = plainScalar(value)
		return sh.Title != ""
	case "summary":
		sh.Summary = plainScalar(value)
		return sh.Summary != ""
	case "audience":
		if value == string(sheet.Customers) || value == string(sheet.Staff) {
			sh.Audience = sheet.Audience(value)
			return true
		}
	case "order":
		n, err := strconv.Atoi(value)
		if err == nil && n > 0 && n < 1e6 && value[0] >= '1' && value[0] <= '9' {
			sh.Order, sh.HasOrder = float64(n), true
			return true
		}
	case "topics":
		inner, ok := strings.CutPrefix(value, "[")
		if inner, ok = strings.CutSuffix(inner, "]"); !ok || !strings.HasPrefix(value, "[") {
			return false
		}
		var topics []string
		for _, item := range strings.Split(inner, ",") {
			item = strings.TrimSpace(item)
			if plainScalar(item) == "" || strings.ContainsAny(item, "[]{}:#'\"") {
				return false
			}
			topics = append(topics, item)
		}
		sh.Topics = topics
		return true
	}
	return false
}

// plainScalar gives a text that YAML reads as it stands, "" for any other.
func plainScalar(value string) string {
	c := first(value)
	if c < 'A' || c > 'z' || c > 'Z' && c < 'a' || strings.ContainsAny(value, "\t\\") ||
		strings.Contains(value, ": ") || strings.HasSuffix(value, ":") || strings.Contains(value, " #") {
		return ""
	}
	switch strings.ToLower(value) {
	case "null", "true", "false", "yes", "no", "on", "off":
		return ""
	}
	return value
}
