package content

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"labsite/recipes/page"
	"labsite/recipes/source"
)

// headKeys are the keys of a page that lists of pages, sections and the document register show, and
// the one that says what it draws on. They are enough to write a section, and to find chains of
// pages, before the pages are read in full.
var headKeys = func() []string {
	var out []string
	for _, k := range page.Keys() {
		if k.Head {
			out = append(out, k.Name)
		}
	}
	return out
}()

// readHead reads only those keys, and the paths of the pages that the page draws on. It returns nil if
// anything about them is out of the ordinary: the page must then be read in full. Otherwise the
// result is that of reading in full, as head_test.go checks.
func readHead(file *source.File) (*page.Sheet, []string) {
	rest, ok := strings.CutPrefix(file.Text, "---\n")
	if !ok {
		return nil, nil
	}
	h := &headReader{sheet: &page.Sheet{}, seen: map[string]bool{}}
	h.forYAML.WriteString("---\n")
	for {
		line, after, more := strings.Cut(rest, "\n")
		if !more {
			return nil, nil
		}
		rest = after
		if strings.TrimRight(line, " \t") == "---" {
			break
		}
		if !h.line(line, rest) {
			return nil, nil
		}
	}
	if h.hard && !h.readRest(file.Path) {
		return nil, nil
	}
	if h.sheet.Title == "" || h.sheet.Audience == "" {
		return nil, nil
	}
	return h.sheet, h.draws
}

// headReader reads the head of one page, line by line.
type headReader struct {
	sheet *page.Sheet // without its File, which would stay in memory with it
	draws []string
	seen  map[string]bool
	key   string // the key whose lines are being read; "" if its value is already read
	// forYAML has the lines of the keys that only YAML can read, on their own line numbers; hard
	// says that there are any.
	forYAML strings.Builder
	hard    bool
}

// line reads a line; rest is the text after it. It is false if the line is out of the ordinary.
func (h *headReader) line(line, rest string) bool {
	switch c := first(line); {
	case c >= 'a' && c <= 'z':
		name, value, is := strings.Cut(line, ":")
		if !is || !plainName(name) || h.seen[name] || strings.HasPrefix(strings.TrimLeft(value, " "), "&") {
			return false
		}
		h.seen[name], h.key = true, name
		if slices.Contains(headKeys, name) {
			if !continues(rest) && simpleHead(h.sheet, name, value) {
				h.key = ""
			} else {
				h.hard = true
			}
		}
	case c == 0 || c == ' ' || c == '#':
	default:
		return false
	}
	if slices.Contains(headKeys, h.key) {
		h.forYAML.WriteString(line)
	}
	h.forYAML.WriteByte('\n')
	return true
}

// readRest reads as YAML what simple lines did not give. It is false if there is any error in it.
func (h *headReader) readRest(path string) bool {
	h.forYAML.WriteString("---\n")
	cut, list := source.New(path, []byte(h.forYAML.String()))
	full, more := page.Decode(cut, nil)
	if full == nil || len(list) > 0 {
		return false
	}
	for _, d := range more {
		if d.Code != "missing-key" {
			return false
		}
	}
	sh := h.sheet
	sh.Title = cmp.Or(sh.Title, full.Title)
	sh.Summary = cmp.Or(sh.Summary, full.Summary)
	sh.Audience = cmp.Or(sh.Audience, full.Audience)
	if !sh.HasOrder {
		sh.Order, sh.HasOrder = full.Order, full.HasOrder
	}
	if sh.Topics == nil {
		sh.Topics = full.Topics
	}
	sh.Season = full.Season
	sh.Control = full.Control
	h.draws = usesOf(full)
	return true
}

func first(line string) byte {
	if line == "" {
		return 0
	}
	return line[0]
}

// continues reports whether the following lines belong to the value of the line before.
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

// simpleHead takes a value that is on one line and that YAML would read as it looks.
func simpleHead(sh *page.Sheet, key, value string) bool {
	if !strings.HasPrefix(value, " ") {
		return false
	}
	value = strings.Clone(strings.TrimSpace(value)) // or the whole text would stay in memory with it
	switch key {
	case "title":
		sh.Title = plainScalar(value)
		return sh.Title != ""
	case "summary":
		sh.Summary = plainScalar(value)
		return sh.Summary != ""
	case "audience":
		if value == string(page.Customers) || value == string(page.Staff) {
			sh.Audience = page.Audience(value)
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

// plainScalar returns a text that YAML reads as it stands, and "" for any other.
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
