package preview

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"labsite/recipes/page"
	"labsite/recipes/source/sourcetest"
	"labsite/render/build"
)

const onePage = "developing/one-shot-developer.md"

func (l *lab) get(path string) (int, string) {
	l.t.Helper()
	r, err := http.Get(strings.TrimSuffix(l.proof.Address(), "/") + path)
	if err != nil {
		l.t.Fatal(err)
	}
	defer r.Body.Close()
	b, _ := io.ReadAll(r.Body)
	return r.StatusCode, string(b)
}

// opened listens like an open page.
type opened struct {
	t    *testing.T
	told chan message
}

func (l *lab) open(at string) *opened {
	l.t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	l.t.Cleanup(cancel)
	req, _ := http.NewRequestWithContext(ctx, "GET", l.proof.Address()+"proof/changes?have=&at="+url.QueryEscape((&url.URL{Path: at}).EscapedPath()), nil)
	r, err := http.DefaultClient.Do(req)
	if err != nil {
		l.t.Fatal(err)
	}
	o := &opened{l.t, make(chan message, 1000)}
	go func() {
		defer r.Body.Close()
		in := bufio.NewReaderSize(r.Body, 1<<20)
		for {
			line, err := in.ReadBytes('\n')
			if err != nil {
				return
			}
			if data, is := bytes.CutPrefix(line, []byte("data: ")); is {
				var m message
				if err := json.Unmarshal(data, &m); err != nil {
					l.t.Error(err)
				}
				o.told <- m
			}
		}
	}()
	o.await("the page itself", func(m message) bool { return true })
	return o
}

// await waits for a message that fits.
func (o *opened) await(what string, is func(m message) bool) message {
	o.t.Helper()
	end := sourcetest.TooLate(o.t)
	for {
		select {
		case m := <-o.told:
			if is(m) {
				return m
			}
		case <-end:
			o.t.Fatalf("the page was not told of %s", what)
		}
	}
}

func (o *opened) shows(text string) message {
	o.t.Helper()
	return o.await(fmt.Sprintf("%q", text), func(m message) bool { return strings.Contains(m.HTML, text) && len(m.Errors) == 0 })
}

// Every way in which editors save, as the kernel sees it: the page shows the new text and never an
// error in between.
func TestEveryWayOfSaving(t *testing.T) {
	l := newLab(t, Options{})
	o := l.open("/staff/" + strings.TrimSuffix(onePage, ".md") + ".html")
	good := l.read(onePage)
	full := l.file(onePage)
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	late := false
	ways := map[string]func(text string){
		"in place": func(text string) { must(os.WriteFile(full, []byte(text), 0o666)) },
		"in place, emptied first and filled a little later": func(text string) {
			f, err := os.OpenFile(full, os.O_WRONLY|os.O_TRUNC, 0)
			must(err)
			emptied := time.Now()
			time.Sleep(15 * time.Millisecond)
			_, err = f.WriteString(text)
			must(err)
			must(f.Close())
			late = time.Since(emptied) > unwritten // a busy machine: the preview may have given up on it
		},
		"by a file that takes its name": func(text string) {
			must(os.WriteFile(full+".new", []byte(text), 0o666))
			must(os.Rename(full+".new", full))
		},
		"by a hidden file that takes its name": func(text string) {
			hidden := filepath.Join(filepath.Dir(full), ".one-shot-developer.md.k2x")
			must(os.WriteFile(hidden, []byte(text), 0o666))
			must(os.Rename(hidden, full))
		},
		"with a swap file and the old text kept beside it": func(text string) {
			swap := filepath.Join(filepath.Dir(full), ".one-shot-developer.md.swp")
			must(os.WriteFile(swap, []byte("swap"), 0o600))
			must(os.WriteFile(filepath.Join(filepath.Dir(full), "4913"), nil, 0o666))
			must(os.Remove(filepath.Join(filepath.Dir(full), "4913")))
			must(os.Rename(full, full+"~"))
			must(os.WriteFile(full, []byte(text), 0o666))
			must(os.Remove(full + "~"))
			must(os.Remove(swap))
		},
		"taken away and written anew": func(text string) {
			must(os.Remove(full))
			must(os.WriteFile(full, []byte(text), 0o666))
		},
		"in many small pieces": func(text string) {
			f, err := os.OpenFile(full, os.O_WRONLY|os.O_TRUNC, 0)
			must(err)
			for len(text) > 0 {
				n := min(len(text), 400)
				_, err = f.WriteString(text[:n])
				must(err)
				text = text[n:]
			}
			must(f.Close())
		},
	}
	i := 0
	for name, save := range ways {
		i++
		word := fmt.Sprintf("Saved for the time %d.", i)
		late = false
		save(good + "\n" + word + "\n")
		for {
			m := o.await(name, func(m message) bool { return true })
			if len(m.Errors) > 0 && !late {
				t.Errorf("%s: an error was shown in between: %s", name, m.Errors[0].Message)
			}
			if strings.Contains(m.HTML, word) {
				break
			}
		}
	}
}

// Folders are added, moved and removed, and a branch is checked out.
func TestFoldersAndBranches(t *testing.T) {
	l := newLab(t, Options{})
	front := l.open("/staff/")
	page := "---\ntitle: %s\naudience: customers\nsummary: A page.\n---\n\nText of %[1]s.\n"
	l.write("shelf/inner/first.md", fmt.Sprintf(page, "Firstling"))
	front.await("a folder", func(m message) bool { return strings.Contains(m.HTML, "shelf/index.html") })
	l.write("shelf/inner/second.md", fmt.Sprintf(page, "Secondling"))
	inner := l.open("/staff/shelf/inner/")
	l.write("shelf/inner/second.md", fmt.Sprintf(page, "Another one"))
	inner.shows("Another one")
	if err := os.Rename(l.file("shelf"), l.file("rack")); err != nil {
		t.Fatal(err)
	}
	front.await("the folder's new name", func(m message) bool { return strings.Contains(m.HTML, "rack/index.html") })
	moved := l.open("/staff/rack/inner/second.html")
	l.write("rack/inner/second.md", fmt.Sprintf(page, "In the moved folder"))
	moved.shows("In the moved folder")
	if err := os.RemoveAll(l.file("rack")); err != nil {
		t.Fatal(err)
	}
	front.await("the folder's end", func(m message) bool { return m.HTML != "" && !strings.Contains(m.HTML, "rack/") })
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("there is no git here")
	}
	git := func(args ...string) {
		t.Helper()
		cmd := exec.Command("git", append([]string{"-c", "user.name=A lab", "-c", "user.email=lab@example.invalid"}, args...)...)
		cmd.Dir = l.dir
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("git %s: %v\n%s", args, err, out)
		}
	}
	l.write("extra/page.md", fmt.Sprintf(page, "On the first branch"))
	front.await("one more folder", func(m message) bool { return strings.Contains(m.HTML, "extra/index.html") })
	git("init", "-q", "-b", "first")
	git("add", "-A")
	git("commit", "-qm", "first")
	git("checkout", "-qb", "other")
	l.replace("index.md", "title: ", "title: Other ")
	l.write("added/page.md", fmt.Sprintf(page, "On the branch"))
	if err := os.RemoveAll(l.file("extra")); err != nil {
		t.Fatal(err)
	}
	git("add", "-A")
	git("commit", "-qm", "other")
	front.await("what was written on the branch", func(m message) bool { return strings.Contains(m.HTML, "added/index.html") })
	git("checkout", "-q", "first")
	front.await("the first branch", func(m message) bool {
		return strings.Contains(m.HTML, "extra/index.html") && !strings.Contains(m.HTML, "added/")
	})
	git("checkout", "-q", "other")
	front.await("the other branch", func(m message) bool {
		return strings.Contains(m.HTML, "added/index.html") && !strings.Contains(m.HTML, "extra/index.html")
	})
}

// Names with spaces, signs and any letters are followed like others.
func TestOddNames(t *testing.T) {
	const odd = "b ox/é 100%#&+.md"
	l := serveWith(t, filepath.Join(t.TempDir(), "content"), map[string]string{
		"index.md": "---\ntitle: Front\naudience: staff\n---\n\nText.\n", odd: "---\ntitle: Odd\naudience: staff\n---\n\nText.\n"})
	o := l.open("/staff/" + strings.TrimSuffix(odd, ".md") + ".html")
	l.replace(odd, "Text.", "Another text.")
	if m := o.shows("Another text."); m.Page != odd {
		t.Errorf("the page is told to be %q", m.Page)
	}
	l.replace(odd, "title: Odd", "title: [Odd")
	m := o.await("an error", func(m message) bool { return len(m.Errors) > 0 })
	front := l.open("/staff/")
	if m.Errors[0].File != odd {
		t.Errorf("the error is of %s", m.Errors[0].File)
	}
	l.replace("index.md", "Text.", "More.")
	m = front.shows("More.")
	if len(m.Others) != 1 || !strings.HasSuffix(m.Others[0].Address, "/staff/b%20ox/%C3%A9%20100%25%23&+.html") {
		t.Errorf("other files: %+v", m.Others)
	}
	if status, _ := l.get(m.Others[0].Address); status != http.StatusOK {
		t.Errorf("its address gets status %d", status)
	}
}

// Everything that pages are made of is followed.
func TestAllThatPagesAreMadeOf(t *testing.T) {
	l := newLab(t, Options{})
	o := l.open("/staff/" + strings.TrimSuffix(onePage, ".md") + ".html")
	front := l.open("/staff/")
	l.write("look/lab.css", "body { color: grey }\n")
	l.write("labsite.yaml", strings.Replace(l.read("labsite.yaml"), "name: ", "name: Another ", 1)+"\ntheme: look\n")
	front.shows("Another Brindle")
	l.write("look/lab.css", "body { color: black }\n")
	o.await("a style", func(m message) bool { return m.Style })
	l.write("look/neighbours.html", "<p>Neighbours of our own</p>\n")
	o.shows("Neighbours of our own")
	l.write("look/neighbours.html", "{{.Nothing}}\n")
	o.await("a theme that is wrong", func(m message) bool {
		return len(m.Errors) > 0 && strings.Contains(m.Errors[0].File, "look/neighbours.html")
	})
	l.write("look/neighbours.html", "<p>Mended</p>\n")
	o.shows("Mended")
	times := "developing/one-shot-times.csv"
	l.write(times, "nothing,here\n1,2\n")
	o.await("columns that are gone", func(m message) bool { return len(m.Errors) > 0 })
	original, _ := os.ReadFile(filepath.Join("../../content", times))
	l.write(times, string(original))
	o.await("the columns", func(m message) bool { return len(m.Errors) == 0 })
	l.write("hazards.yaml", "nonsense: [\n")
	o.await("hazards that are wrong", func(m message) bool { return len(m.Errors) > 0 && m.Errors[0].File == "hazards.yaml" })
	if err := os.Remove(l.file("hazards.yaml")); err != nil {
		t.Fatal(err)
	}
	o.await("no hazards", func(m message) bool { return len(m.Errors) == 0 })
	l.write("formulary/own.yaml", "nonsense: [\n")
	o.await("a formulary that is wrong", func(m message) bool { return len(m.Errors) > 0 && m.Errors[0].File == "formulary/own.yaml" })
	if err := os.RemoveAll(l.file("formulary")); err != nil {
		t.Fatal(err)
	}
	o.await("no formulary", func(m message) bool { return len(m.Errors) == 0 })
	svg := `<svg xmlns="http://www.w3.org/2000/svg" width="%d" height="20"><title>A shape</title></svg>`
	l.write("developing/shape.svg", fmt.Sprintf(svg, 30))
	l.replace(onePage, "## What goes wrong", "![A shape](shape.svg)\n\n## What goes wrong")
	o.shows(`width="30"`)
	l.write("developing/shape.svg", fmt.Sprintf(svg, 60))
	o.shows(`width="60"`)
	if status, body := l.get("/staff/developing/shape.svg"); status != 200 || !strings.Contains(body, `width="60"`) {
		t.Errorf("the picture: %d %s", status, body)
	}
}

// A save shows which numbers changed, on the page and on those that draw on it.
func TestNumbersOfASave(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "content")
	l := serveWith(t, dir, map[string]string{
		"mix.md": "---\ntitle: Mix\naudience: staff\ngiven:\n  tank: {label: Tank, value: 500 ml, from: 100 ml, to: 2 l}\nfigures:\n  part: {label: Part, formula: tank / 10, show: 1 ml}\n  rest: tank - part\nchecks:\n  - always: part + rest == tank\n---\n\n{part}\n",
		"use.md": "---\ntitle: Use\naudience: staff\ndraws_on: {mix: mix.md}\nfigures:\n  twice: {label: Twice, formula: mix.part * 2, show: 1 ml}\n---\n\n{twice}\n",
	})
	if err := l.proof.site.Load().Settle(context.Background()); err != nil {
		t.Fatal(err)
	}
	o := l.open("/staff/mix.html")
	l.replace("mix.md", "value: 500 ml", "value: 600 ml")
	m := o.await("the numbers", func(m message) bool { return m.Save != nil && len(m.Save.Pages) == 2 })
	part := m.Save.Pages[0].Numbers[0]
	if part.Name != "part" || part.Before != "50 ml" || part.After != "60 ml" || len(part.Guards) != 1 || part.Guards[0] != "always part + rest == tank" {
		t.Errorf("the part: %+v", part)
	}
	twice := m.Save.Pages[1].Numbers[0]
	if m.Save.Pages[1].Page != "use.md" || twice.Before != "100 ml" || twice.After != "120 ml" || len(twice.Guards) != 0 {
		t.Errorf("twice: %+v", m.Save.Pages[1])
	}
	status, body := l.get("/proof/number?page=use.md&name=twice")
	var tree branch
	if err := json.Unmarshal([]byte(body), &tree); status != 200 || err != nil {
		t.Fatal(status, body)
	}
	if len(tree.Inputs) != 1 || tree.Inputs[0].Place != "mix.md:7:3" || tree.Inputs[0].Shown != "60 ml" ||
		len(tree.Inputs[0].Inputs) != 1 || tree.Inputs[0].Inputs[0].Kind != "given" || tree.Numbers != "60 ml * 2" {
		t.Errorf("the tree: %s", body)
	}
	// A page that has errors for a while is compared with its state before them.
	l.replace("mix.md", "tank / 10", "tank / (10")
	o.await("the error", func(m message) bool { return len(m.Errors) > 0 })
	l.replace("mix.md", "tank / (10", "tank / 20")
	m = o.await("the mended numbers", func(m message) bool { return len(m.Errors) == 0 && m.Save != nil && len(m.Save.Pages) == 2 })
	if part := m.Save.Pages[0].Numbers[0]; part.Before != "60 ml" || part.After != "30 ml" {
		t.Errorf("the part, mended: %+v", part)
	}
}

// A factor that changes nothing at the page's own values shows in the cells of its table.
func TestNumbersOfATable(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "content")
	l := serveWith(t, dir, map[string]string{
		"time.md": "---\ntitle: Time\naudience: staff\ngiven:\n  bath: {label: Bath, value: 20 °C, from: 18 °C, to: 24 °C, step: 2 K}\n  factor: 1.09\n" +
			"figures:\n  time: {label: Time, formula: 10 min * factor ** ((20 °C - bath) / 1 K), show: 15 s}\nchecks:\n  - {at: {bath: 20 °C}, expect: {time: 10 min}, source: \"common practice, no source\"}\n" +
			"tables:\n  by_bath: {caption: Times, rows: {bath: [20 °C, 24 °C]}, cell: time}\n---\n\n{time}\n\n{by_bath}\n",
	})
	if err := l.proof.site.Load().Settle(context.Background()); err != nil {
		t.Fatal(err)
	}
	o := l.open("/staff/time.html")
	l.replace("time.md", "factor: 1.09", "factor: 1.12")
	m := o.await("the cell", func(m message) bool { return m.Save != nil && len(m.Save.Pages) == 1 })
	if n := m.Save.Pages[0].Numbers; len(n) != 2 || n[0].Label != "Time at Bath 24 °C" || n[1].Name != "time" || n[0].Before != "7 min" || n[0].After != "6 min 15 s" || len(n[0].Guards) != 1 {
		t.Fatalf("changed: %+v", n)
	}
	status, body := l.get("/proof/number?page=time.md&table=by_bath&row=1&column=0&figure=0")
	if status != 200 || !strings.Contains(body, "6 min 15 s") {
		t.Errorf("how the cell came about: %d %s", status, body)
	}
}

func serveWith(t *testing.T, dir string, files map[string]string) *lab {
	t.Helper()
	return serveWithOptions(t, dir, files, Options{})
}

func serveWithOptions(t *testing.T, dir string, files map[string]string, opt Options) *lab {
	t.Helper()
	for p, text := range files {
		full := filepath.Join(dir, filepath.FromSlash(p))
		os.MkdirAll(filepath.Dir(full), 0o777)
		if err := os.WriteFile(full, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	return serveLab(t, dir, opt)
}

// An editor's address may have the file in its query.
func TestEditorAddress(t *testing.T) {
	p := &Preview{full: "/a&b=c+d", opt: Options{Editor: "edit://open?file={file}&line={line}&column={column}"}}
	want := "edit://open?file=/a%26b%3Dc%2Bd/e%20%23f%3Fg%25h.md&line=3&column=7"
	if got := p.editor("e #f?g%h.md", 3, 7); got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// Errors appear with their places and go when they are fixed; the last correct page stays.
func TestErrorsComeAndGo(t *testing.T) {
	l := newLab(t, Options{Editor: "edit:{file}#{line},{column}"})
	at := "/staff/" + strings.TrimSuffix(onePage, ".md") + ".html"
	o := l.open(at)
	good := l.read(onePage)
	_, before := l.get(at)
	l.write(onePage, strings.Replace(good, "\nfigures:", "\nfigures:\n  odd: (tank", 1))
	m := o.await("the error", func(m message) bool { return len(m.Errors) > 0 })
	e := m.Errors[0]
	if m.HTML != "" || !strings.HasPrefix(e.Place, onePage+":") || e.Text != "  odd: (tank" || strings.Trim(e.Mark, " ^") != "" || e.Hint == "" ||
		!strings.HasPrefix(e.Open, "edit:/") || !strings.HasSuffix(e.Open, fmt.Sprintf("#%d,%d", e.Line, e.Column)) {
		t.Errorf("the error is told as %+v", e)
	}
	if status, now := l.get(at); status != 200 || now != before {
		t.Error("the last good page does not stay")
	}
	l.write(onePage, good)
	o.await("nothing", func(m message) bool { return len(m.Errors) == 0 })
	// half of a page, and the other half later
	l.write(onePage, good[:len(good)/3])
	o.await("half a page", func(m message) bool { return len(m.Errors) > 0 })
	l.write(onePage, good)
	o.await("the whole page", func(m message) bool { return len(m.Errors) == 0 })
}

// If the system reports nothing, the files are looked at every second.
func TestLooking(t *testing.T) {
	l := newLab(t, Options{Looking: true})
	o := l.open("/staff/" + strings.TrimSuffix(onePage, ".md") + ".html")
	l.replace(onePage, "## What goes wrong", "Seen by looking.\n\n## What goes wrong")
	o.shows("Seen by looking.")
}

// The whole content folder is removed, and another takes its place.
func TestAnotherFolderOfTheName(t *testing.T) {
	l := newLab(t, Options{})
	front := l.open("/staff/")
	other := filepath.Join(filepath.Dir(l.dir), "other")
	if err := os.CopyFS(other, os.DirFS(l.dir)); err != nil {
		t.Fatal(err)
	}
	before := l.proof.site.Load()
	if err := os.Rename(l.dir, l.dir+"-old"); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(other, l.dir); err != nil {
		t.Fatal(err)
	}
	wait(t, "the other folder is opened", func() bool { return l.proof.site.Load() != before })
	l.replace("index.md", "title: ", "title: Other ")
	front.shows("Other ")
}

// Only this machine's own browser is answered, and only with what the site has.
func TestWhoIsAnswered(t *testing.T) {
	l := newLab(t, Options{})
	if host, _, _ := net.SplitHostPort(l.proof.listener.Addr().String()); host != "127.0.0.1" {
		t.Errorf("it listens on %s", host)
	}
	ask := func(method, raw, host string, head ...string) int {
		t.Helper()
		c, err := net.Dial("tcp", l.proof.listener.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		if host == "" {
			host = l.proof.listener.Addr().String()
		}
		fmt.Fprintf(c, "%s %s HTTP/1.1\r\nHost: %s\r\nConnection: close\r\n%s\r\n", method, raw, host, strings.Join(head, ""))
		r, err := http.ReadResponse(bufio.NewReader(c), nil)
		if err != nil {
			t.Fatal(raw, err)
		}
		r.Body.Close()
		if r.Header.Get("Content-Security-Policy") == "" && r.StatusCode == 200 {
			t.Errorf("%s comes without a policy", raw)
		}
		return r.StatusCode
	}
	_, port, _ := net.SplitHostPort(l.proof.listener.Addr().String())
	for _, x := range []struct {
		method, path, host, head string
		want                     int
	}{
		{"GET", "/staff/", "", "", 200},
		{"GET", "/staff/", "localhost:" + port, "", 200},
		{"GET", "/", "", "", 302},
		{"GET", "/staff/", "rebound.example:" + port, "", 421},
		{"GET", "/staff/", "127.0.0.1", "", 421},
		{"GET", "/staff/", "127.0.0.1:1", "", 421},
		{"POST", "/staff/", "", "", 405},
		{"GET", "/proof/number?page=index.md&name=x", "", "Sec-Fetch-Site: cross-site\r\nSec-Fetch-Mode: no-cors\r\n", 403},
		{"GET", "/staff/../content/index.md", "", "", 404},
		{"GET", "/staff/%2e%2e/%2e%2e/etc/passwd", "", "", 404},
		{"GET", "/staff/..%2f..%2fetc/passwd", "", "", 404},
		{"GET", "/staff/..%5c..%5cetc/passwd", "", "", 404},
		{"GET", "/staff//etc/passwd", "", "", 404},
		{"GET", "/etc/passwd", "", "", 404},
		{"GET", "/staff/labsite.yaml", "", "", 404},
		{"GET", "/staff/index.md", "", "", 404},
		{"GET", "/staff/developing/one-shot-times.csv", "", "", 404},
		{"GET", "/staff/developing", "", "", 404},
		{"GET", "/customers/bench/index.html", "", "", 404},
		{"GET", "/customers/register.html", "", "", 404},
		{"GET", "/staff/register.html", "", "", 200},
		{"GET", "/staff/lab.css", "", "", 200},
		{"GET", "/proof/live.js", "", "", 200},
		{"GET", "/proof/other", "", "", 404},
	} {
		if got := ask(x.method, x.path, x.host, x.head); got != x.want {
			t.Errorf("%s %s (%s) gets status %d, want %d", x.method, x.path, x.host, got, x.want)
		}
	}
	if _, err := os.Stat(filepath.Join(filepath.Dir(l.dir), "public")); err == nil {
		t.Error("something was written to public/")
	}
}

// It can be ended at any moment and frees its port, whoever is listening.
func TestEndsAtAnyMoment(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "content")
	if err := os.CopyFS(dir, os.DirFS("../../content")); err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(3, 4))
	for range 12 {
		l := serveLab(t, dir, Options{})
		address := l.proof.listener.Addr().String()
		var wait sync.WaitGroup
		wait.Go(func() {
			for i := range 5 {
				l.write("index.md", l.read("index.md")+fmt.Sprintf("\nLine %d.\n", i))
				time.Sleep(3 * time.Millisecond)
			}
		})
		for _, at := range []string{"staff/", "proof/changes?at=/staff/&have=", "staff/register.html"} {
			wait.Go(func() {
				if r, err := http.Get("http://" + address + "/" + at); err == nil {
					io.Copy(io.Discard, r.Body)
					r.Body.Close()
				}
			})
		}
		time.Sleep(time.Duration(random.IntN(40)) * time.Millisecond)
		l.stop()
		again, err := net.Listen("tcp", address)
		if err != nil {
			t.Fatalf("the port is not free: %v", err)
		}
		again.Close()
		wait.Wait()
	}
	// before it has begun
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if p, _, err := Start(ctx, Options{Dir: dir}); p != nil || err == nil {
		t.Error("it began though it was stopped")
	}
}

// When a new day begins, open pages say what has become overdue.
func TestANewDay(t *testing.T) {
	var now atomic.Pointer[time.Time]
	set := func(text string) {
		day, err := time.Parse(time.DateTime, text)
		if err != nil {
			t.Fatal(err)
		}
		now.Store(&day)
	}
	set("2027-02-28 23:59:58")
	l := serveWithOptions(t, filepath.Join(t.TempDir(), "content"), map[string]string{
		"page.md": "---\ntitle: Page\naudience: staff\ncontrol: {number: G-001, revision: 1, status: approved, owner: process lead, approved_by: shop owner, approved: 2026-02-20, effective: 2026-02-28, review: 12 months}\n" +
			"given:\n  tank: {label: Tank, value: 500 ml, source: measured here 2026-02-28, owner: process lead, review: 12 months}\nfigures:\n  part: {label: Part, formula: tank / 5}\n---\n\n{part}\n",
		"hazards.yaml": "substances:\n  - {name: Rinse aid, statements: [], sheet: {author: Example Supplies, date: 2026-02-28, review: 12 months}}\n",
	}, Options{Now: func() time.Time { return *now.Load() }})
	o := l.open("/staff/page.html")
	if _, text := l.get("/staff/page.html"); strings.Contains(text, "overdue") {
		t.Error("it is overdue on the day itself")
	}
	set("2027-03-01 00:00:01")
	l.get("/staff/page.html")
	m := o.await("what is overdue now", func(m message) bool { return strings.Contains(m.HTML, "Review overdue") })
	overdue := func(m message) (n int) {
		for _, x := range m.Notes {
			if strings.Contains(x.Message, "was due on 2027-02-28") {
				n++
			}
		}
		return n
	}
	if overdue(m) != 2 {
		t.Errorf("notes: %v", m.Notes)
	}
	var said []string
	for _, d := range l.proof.site.Load().Diagnostics() {
		said = append(said, d.Message)
	}
	if text := strings.Join(said, "\n"); strings.Count(text, "2027-02-28") != 3 || !strings.Contains(text, "Rinse aid") {
		t.Errorf("printed:\n%s", text)
	}
	// a clock that is set back
	set("2026-12-24 12:00:00")
	l.get("/staff/")
	o.await("that nothing is overdue", func(m message) bool {
		return m.HTML != "" && !strings.Contains(m.HTML, "Review overdue") && overdue(m) == 0
	})
}

const ownFormula = `group: ours
formulas:
  half_of:
    sentence: The half of it.
    takes:
      volume: {label: Volume, kind: volume, above: 0 ml}
    gives: volume
    formula: volume / 2
    source: measured here 2026-09-14
    checks:
      - {at: {volume: 200 ml}, expect: 100 ml ± 60 ml, source: measured here 2026-09-14}
`

// A hundred saves, renames and removals, of pages and of what many depend on, some while pages are
// requested: at the end every page is the same as in a new preview.
func TestManyChangesThenAsFresh(t *testing.T) {
	l := newLab(t, Options{})
	first := uint64(1)
	if text := os.Getenv("FOLLOW_FROM"); text != "" {
		fmt.Sscan(text, &first)
	}
	random := rand.New(rand.NewPCG(first, 2))
	stop := make(chan struct{})
	var wait sync.WaitGroup
	shown := strings.TrimSuffix(onePage, ".md") + ".html"
	for _, addresses := range [][]string{ // some read meanwhile
		{"staff/" + shown, "customers/", "staff/developing/"},
		{"staff/find-words.js", "staff/register.html", "proof/number?page=" + onePage + "&name=concentrate", "customers/bench-formulas/"},
	} {
		wait.Go(func() {
			for i := 0; ; i++ {
				select {
				case <-stop:
					return
				default:
					r, err := http.Get(l.proof.Address() + addresses[i%len(addresses)])
					if err == nil {
						io.Copy(io.Discard, r.Body)
						r.Body.Close()
					}
				}
			}
		})
	}
	l.open("/staff/")
	l.open("/staff/register.html")
	l.open("/customers/" + shown)
	// what many pages depend on, "" for none
	others := []struct{ file, text string }{
		{"labsite.yaml", "name: Another lab\ntheme: look\n"}, {"labsite.yaml", "units: us\n"}, {"labsite.yaml", "name: [\n"},
		{"look/neighbours.html", "<p>Neighbours of our own</p>\n"}, {"look/neighbours.html", "{{"}, {"look/lab.css", "body { color: grey }\n"}, {"look/neighbours.html", ""},
		{"hazards.yaml", "substances:\n  - {name: Rinse aid, statements: [], sheet: {author: Example Supplies, date: 2026-01-15}}\n"}, {"hazards.yaml", "substances: [\n"}, {"hazards.yaml", ""},
		{"formulary/own.yaml", ownFormula}, {"formulary/own.yaml", strings.Replace(ownFormula, "volume / 2", "volume / 4", 1)}, {"formulary/own.yaml", ""},
		{"calls.md", "---\ntitle: Calls\naudience: customers\ngiven:\n  tank: {label: Tank, value: 400 ml, from: 100 ml, to: 1 l}\nfigures:\n  half: {label: Half, formula: half_of(tank)}\n---\n\n{half} of it, with rinse aid.\n"},
	}
	for i := range 100 {
		if i%5 == 4 {
			if x := others[random.IntN(len(others))]; x.text == "" {
				os.Remove(l.file(x.file))
			} else {
				l.write(x.file, x.text)
			}
			time.Sleep(time.Duration(random.IntN(12)) * time.Millisecond)
			continue
		}
		var pages []string
		filepath.WalkDir(l.dir, func(p string, d os.DirEntry, err error) error {
			if err == nil && strings.HasSuffix(p, ".md") {
				pages = append(pages, p)
			}
			return nil
		})
		p := pages[random.IntN(len(pages))]
		raw, _ := os.ReadFile(p)
		switch random.IntN(8) {
		case 0:
			os.Rename(p, filepath.Join(filepath.Dir(pages[random.IntN(len(pages))]), fmt.Sprintf("n%d.md", i)))
		case 1:
			if len(pages) > 10 {
				os.Remove(p)
			}
		case 2:
			os.WriteFile(p, []byte(strings.Replace(string(raw), "audience: customers", "audience: staff", 1)), 0o666)
		case 3:
			os.WriteFile(filepath.Join(filepath.Dir(p), fmt.Sprintf("c%d.md", i)), raw, 0o666)
		case 4:
			os.WriteFile(p, raw[:len(raw)/2], 0o666)
		default:
			os.WriteFile(p, append(raw, fmt.Sprintf("\nLine %d.\n", i)...), 0o666)
		}
		time.Sleep(time.Duration(random.IntN(12)) * time.Millisecond)
	}
	os.Remove(l.file("look/neighbours.html")) // if the theme has errors the last correct one stays in use
	close(stop)
	wait.Wait()
	ctx := context.Background()
	fresh, list := build.Follow(ctx, l.dir, build.Options{Day: l.proof.opt.Now(), Drafts: true})
	if fresh == nil {
		t.Fatal(list)
	}
	defer fresh.Close()
	if err := fresh.Settle(ctx); err != nil {
		t.Fatal(err)
	}
	want := fresh.Diagnostics()
	for late := sourcetest.TooLate(t); ; time.Sleep(50 * time.Millisecond) {
		s := l.proof.site.Load()
		s.Settle(ctx)
		if fmt.Sprint(s.Diagnostics()) == fmt.Sprint(want) {
			break
		}
		select {
		case <-late:
			t.Fatalf("the lists differ:\n%v\n%v", s.Diagnostics(), want)
		default:
		}
	}
	n := 0
	for _, a := range []page.Audience{page.Customers, page.Staff} {
		if x, y := fresh.Addresses(a), l.proof.site.Load().Addresses(a); !slices.Equal(x, y) {
			t.Errorf("the addresses of %s differ:\n%v\n%v", a, x, y)
		}
		for _, name := range fresh.Addresses(a) {
			x, okX := fresh.Answer(a, name, true)
			y, okY := l.proof.site.Load().Answer(a, name, true)
			n++
			if okX != okY || !bytes.Equal(x.Bytes, y.Bytes) {
				t.Errorf("%s of %s differs from a fresh one", name, a)
			}
		}
	}
	if n < 40 {
		t.Errorf("only %d addresses were compared", n)
	}
}

// A page that was never correct shows no number, and neither does one that depends on it; nor do
// they claim to have been correct once.
func TestNeverCorrectShowsNoNumbers(t *testing.T) {
	l := newLab(t, Options{})
	l.write("developing/base.md", "---\ntitle: Base\naudience customers\nfigures: {x: {label: X, formula: 77 ml}}\n---\n\n{x}\n")
	l.write("developing/user.md", "---\ntitle: User\naudience: customers\ndraws_on: {base: base.md}\nfigures: {y: {label: Y, formula: base.x * 2}}\n---\n\n{y}\n")
	for _, address := range []string{"base.html", "user.html", "user.card.html"} {
		wait(t, address, func() bool {
			_, text := l.get("/staff/developing/" + address)
			return strings.Contains(text, "Not worked out yet") && strings.Contains(text, "data-instead") && !strings.Contains(text, `class="q"`)
		})
	}
}

// wait checks again and again until a condition holds.
func wait(t *testing.T, what string, is func() bool) {
	t.Helper()
	for late := sourcetest.TooLate(t); !is(); time.Sleep(25 * time.Millisecond) {
		select {
		case <-late:
			t.Fatalf("%s: never so", what)
		default:
		}
	}
}

// A measured point beyond limits and a row for which a limit holds are reported beside the page
// that shows them, at their line of the data file, and without a value of the page that happens to
// stand on the same line there.
func TestMeasuredRowsAreTold(t *testing.T) {
	l := serveWith(t, filepath.Join(t.TempDir(), "content"), map[string]string{
		"page.md": "---\ntitle: Page\naudience: staff\ndata: {log: log.csv}\ngiven: {aim: 0.8, near: 0.05, far: 0.1}\nlimits:\n  - {each: log, when: density > 0.9, caution: Look at it.}\n" +
			"charts:\n  strip: {caption: Strip, points: {x: log.day, y: log.density}, limits: {aim: aim, action: near, control: far}}\n---\n\n{strip}\n",
		"log.csv": "day,density\n2026-01-01,0.80\n2026-01-02,0.81\n2026-01-03,0.80\n",
	})
	o := l.open("/staff/page.html")
	l.write("log.csv", l.read("log.csv")+"2026-01-04,0.95\n")
	m := o.await("what is beyond", func(m message) bool { return len(m.Notes) >= 2 })
	for _, want := range []string{"lies beyond the control limit of strip", "a caution of the page holds for this row"} {
		if !slices.ContainsFunc(m.Notes, func(n note) bool {
			return n.File == "log.csv" && n.Line == 5 && n.Given == "" && strings.Contains(n.Message, want)
		}) {
			t.Errorf("%q is not among %+v", want, m.Notes)
		}
	}
}
