package sheet

import (
	"net/url"
	"strings"

	"labsite/recipes/source"
	"labsite/recipes/source/tree"
)

// SettingsFile is the name of the settings at the top of a content folder.
const SettingsFile = "labsite.yaml"

// Settings are what a lab says of its site as a whole.
type Settings struct {
	Name     string // the lab's name
	Address  string // where the site is published, with a slash at its end; "" where not said
	Language string // BCP 47 tag, "en"
	Units    string // "metric" or "us": which is shown first
	Notice   string // the standing notice, "" for the built-in one
	Theme    string // folder of the lab's own theme, relative to the content folder
	HTML     bool   // raw HTML in pages lets a safe set of elements through
}

// DefaultSettings are those of a content folder without a settings file.
func DefaultSettings() Settings {
	return Settings{Name: "The lab", Language: "en", Units: "metric"}
}

// DecodeSettings reads a settings file. Every key is optional.
func DecodeSettings(f *source.File) (Settings, source.List) {
	s := DefaultSettings()
	front, list := tree.Parse(f, 0, len(f.Text))
	if front == nil {
		return s, list
	}
	d := &decoder{file: f, list: list}
	d.known(front, []string{"name", "address", "language", "units", "notice", "theme", "html"})
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
	set("units", &s.Units)
	set("address", &s.Address)
	if v := front.Get("units"); v != nil && s.Units != "metric" && s.Units != "us" {
		d.report(source.NotOneOf("units", s.Units, []string{"metric", "us"}), v.Span)
		s.Units = "metric"
	}
	if s.Address != "" {
		u, err := url.Parse(s.Address)
		if err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Host == "" {
			d.report(source.NotAnAddress(s.Address), front.Get("address").Span)
			s.Address = ""
		} else if !strings.HasSuffix(s.Address, "/") {
			s.Address += "/"
		}
	}
	if v := front.Get("html"); v != nil {
		switch d.text(v, "html") {
		case "true":
			s.HTML = true
		case "false":
		default:
			d.report(source.NotOneOf("html", v.Text, []string{"true", "false"}), v.Span)
		}
	}
	return s, d.list
}
