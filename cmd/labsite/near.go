package main

import (
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"labsite/recipes/page"
)

// findLab sets a --from that was left out to the nearest lab. The flag still counts as not typed.
func findLab(c *cobra.Command) {
	if f := c.Flags().Lookup("from"); f != nil && !f.Changed {
		f.Value.Set(nearestLab("."))
	}
}

// nearestLab finds the content folder of somebody who works in a folder. Going upwards from there,
// it is the first folder with settings in it, or the first content folder inside one; folders with
// pages in them count up to the highest in a row. It is "content" if there is none.
func nearestLab(from string) string {
	if from == "" {
		from = "."
	}
	full, err := filepath.Abs(from)
	if err != nil {
		return "content"
	}
	highest := ""
	for dir := full; ; dir = filepath.Dir(dir) {
		if isFile(filepath.Join(dir, page.SettingsFile)) {
			return relative(from, dir)
		}
		if isLab(filepath.Join(dir, "content")) {
			return relative(from, filepath.Join(dir, "content"))
		}
		if hasPages(dir) {
			highest = dir
		} else if highest != "" {
			return relative(from, highest)
		}
		if filepath.Dir(dir) == dir {
			break
		}
	}
	if highest != "" {
		return relative(from, highest)
	}
	return "content"
}

// relative writes a folder as one would type it in the current one.
func relative(from, dir string) string {
	here, err := os.Getwd()
	if err != nil || from != "." {
		return dir
	}
	if rel, err := filepath.Rel(here, dir); err == nil {
		return rel
	}
	return dir
}

func isFile(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Mode().IsRegular()
}

func isLab(dir string) bool {
	return isFile(filepath.Join(dir, page.SettingsFile)) || hasPages(dir)
}

// hasPages reports whether a folder has a Markdown file with front matter.
func hasPages(dir string) bool {
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		f := filepath.Join(dir, e.Name())
		if filepath.Ext(f) != ".md" || !isFile(f) {
			continue
		}
		file, err := os.Open(f)
		if err != nil {
			continue
		}
		begin := make([]byte, 4)
		n, _ := file.Read(begin)
		file.Close()
		if n == 4 && string(begin[:3]) == "---" && (begin[3] == '\n' || begin[3] == '\r') {
			return true
		}
	}
	return false
}
