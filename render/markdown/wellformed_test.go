package markdown

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

var (
	ourTag = regexp.MustCompile(`^<(/?)([a-z][a-z0-9]*)((?: [a-z-]+(?:="[^"<>]*")?)*)>`)
	ourID  = regexp.MustCompile(` id="([^"]*)"`)
	inText = []string{"p", "h2", "h3", "h4", "h5", "h6", "dt", "em", "strong", "del", "code", "a", "sup"}
	blocks = []string{"p", "h2", "h3", "h4", "h5", "h6", "ul", "ol", "li", "dl", "dt", "dd", "blockquote", "pre", "table", "div", "section", "hr"}
)

// wellFormed checks what Render wrote: every < is a tag, tags nest, no block is within text, no link within a link,
// and no id occurs twice.
func wellFormed(html string) error {
	var open []string
	ids := map[string]bool{}
	for at := 0; ; {
		i := strings.IndexByte(html[at:], '<')
		if i < 0 {
			break
		}
		at += i
		m := ourTag.FindStringSubmatch(html[at:])
		if m == nil {
			return fmt.Errorf("no tag at %.60q", html[at:])
		}
		at += len(m[0])
		name := m[2]
		if id := ourID.FindStringSubmatch(m[3]); id != nil {
			if ids[id[1]] {
				return fmt.Errorf("the id %q is there twice", id[1])
			}
			ids[id[1]] = true
		}
		switch {
		case m[1] == "/":
			if len(open) == 0 || open[len(open)-1] != name {
				return fmt.Errorf("%s closes %v", m[0], open)
			}
			open = open[:len(open)-1]
		default:
			if slices.Contains(blocks, name) && len(open) > 0 && slices.Contains(inText, open[len(open)-1]) {
				return fmt.Errorf("%s in %v", m[0], open)
			}
			if name == "a" && slices.Contains(open, "a") {
				return fmt.Errorf("%s in %v", m[0], open)
			}
			if !void[name] {
				open = append(open, name)
			}
		}
	}
	if len(open) > 0 {
		return fmt.Errorf("%v never closed", open)
	}
	return nil
}

// balanced checks that tags nest, whatever they are.
func balanced(html string) error {
	var open []string
	for {
		i := strings.IndexByte(html, '<')
		if i < 0 {
			break
		}
		html = html[i:]
		name, end, n := tag(html)
		if n == 0 {
			return fmt.Errorf("no tag at %.60q", html)
		}
		html = html[n:]
		switch {
		case end:
			if len(open) == 0 || open[len(open)-1] != name {
				return fmt.Errorf("</%s> closes %v", name, open)
			}
			open = open[:len(open)-1]
		case !void[name]:
			open = append(open, name)
		}
	}
	if len(open) > 0 {
		return fmt.Errorf("%v never closed", open)
	}
	return nil
}
