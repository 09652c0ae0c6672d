package page

import (
	"net/url"
	"regexp"
	"slices"
	"strings"

	"labsite/recipes/quantity"
	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

// SettingsFile is the name of the settings at the top of a content folder.
const SettingsFile = "labsite.yaml"

// Settings are what a lab says of its site as a whole.
type Settings struct {
	Name     string // the lab's name
	Address  string // where the site is published, with a slash at its end; "" if not said
	Language string // BCP 47 tag, "en"
	Units    string // "metric" or "us": which units are shown first
	Notice   string // the standing notice, "" for the built-in one
	Theme    string // folder of the lab's own theme, as written
	ThemeAt  source.Span
	// Guarded is the share of the changes tried on a page that its checks should notice, 0 if the
	// lab asks for none; GuardedText is how it is written.
	Guarded     float64
	GuardedText string
	Counts      []string // the lab's own words for things that it counts
	HTML        bool     // raw HTML in pages lets a safe set of elements through
	// CustomersSee lists which of BehindPages the customers' site shows; none unless the lab
	// says so.
	CustomersSee []string
	// Alike are the lab's own groups of words that mean one thing, for the search.
	Alike [][]string
}

// BehindPages are the words of customers_see, for what tells who is responsible for a page: who
// owns a page or a value, who approved a page and when, what changed in revisions before the
// last, when a page is reviewed, who reviewed a safety data sheet.
var BehindPages = []string{"owner", "approval", "changes", "review", "reviewer"}

// Sees reports whether an audience is shown one of BehindPages.
func (s *Settings) Sees(a Audience, what string) bool {
	return a == Staff || slices.Contains(s.CustomersSee, what)
}

// DefaultSettings are those of a content folder without a settings file.
func DefaultSettings() Settings {
	return Settings{Name: "The lab", Language: "en", Units: "metric"}
}

// countWord is a word for a counted thing.
var countWord = regexp.MustCompile(`^[a-z][a-z_]{1,29}$`)

// countWords reads the lab's own counted things.
func (d *decoder) countWords(v *value) (words []string) {
	for _, item := range d.items(v, "counts") {
		word := d.text(item, "counts")
		switch {
		case word == "":
		case !countWord.MatchString(word):
			d.report(source.CountWord(word), item.Span)
		case quantity.IsUnit(word):
			d.report(source.CountIsUnit(word), item.Span)
		default:
			words = append(words, word)
		}
	}
	return words
}

// DecodeSettings reads a settings file. Every key is optional.
func DecodeSettings(f *source.File) (Settings, source.List) {
	s := DefaultSettings()
	front, list := tree.Parse(f, 0, len(f.Text))
	if front == nil {
		return s, list
	}
	d := &decoder{file: f, list: list}
	d.known(front, lab.Known())
	set := func(key string, to *string) {
		if v := front.Get(key); v != nil {
			if t := d.text(v, key); t != "" {
				*to = t
			}
		}
	}
	set("name", &s.Name)
	set("language", &s.Language)
	set("notice", &s.Notice)
	set("theme", &s.Theme)
	if v := front.Get("theme"); v != nil {
		s.ThemeAt = v.Span
	}
	set("units", &s.Units)
	set("address", &s.Address)
	if v := front.Get("units"); v != nil && s.Units != "metric" && s.Units != "us" {
		d.report(source.NotOneOf("units", s.Units, []string{"metric", "us"}), v.Span)
		s.Units = "metric"
	}
	if s.Address != "" {
		s.Address = d.address(s.Address, front.Get("address"))
	}
	if v := front.Get("guarded"); v != nil {
		if q, ok := d.quantity(v, "guarded"); ok && (q.Kind != quantity.Number || q.Base <= 0 || q.Base > 1) {
			d.report(source.GuardedShare(), v.Span)
		} else if ok {
			s.Guarded, s.GuardedText = q.Base, q.Text
		}
	}
	s.Counts = d.countWords(front.Get("counts"))
	if v := front.Get("html"); v != nil {
		switch d.text(v, "html") {
		case "true":
			s.HTML = true
		case "false":
		default:
			d.report(source.NotOneOf("html", v.Text, []string{"true", "false"}), v.Span)
		}
	}
	s.Alike = d.alike(front.Get("alike"))
	for _, v := range d.items(front.Get("customers_see"), "customers_see") {
		if word := d.text(v, "customers_see"); slices.Contains(BehindPages, word) {
			s.CustomersSee = append(s.CustomersSee, word)
		} else if word != "" {
			d.report(source.NotOneOf("customers_see", word, BehindPages), v.Span)
		}
	}
	return s, d.list
}

// address gives the address of a site with a slash at its end, "" for a text that is not an address.
func (d *decoder) address(text string, at *value) string {
	u, err := url.Parse(text)
	if err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Host == "" {
		d.report(source.NotAnAddress(text), at.Span)
		return ""
	}
	return strings.TrimSuffix(text, "/") + "/"
}
