package language

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"labsite/render/build/buildtest"
)

// talk plays a whole session over the pipe and returns everything that the server wrote.
func talk(t testing.TB, dir string, raw string) (string, error) {
	t.Helper()
	var out bytes.Buffer
	err := Serve(context.Background(), strings.NewReader(raw), &out, Options{Dir: dir, Now: func() time.Time { return testDay }})
	return out.String(), err
}

func framed(messages ...string) string {
	var b strings.Builder
	for _, m := range messages {
		fmt.Fprintf(&b, "Content-Length: %d\r\n\r\n%s", len(m), m)
	}
	return b.String()
}

const hello = `{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"processId":null,"rootUri":null,"capabilities":{}}}`

// Input that is no session of the protocol gets a protocol error, or its connection ends.
func TestHostileClients(t *testing.T) {
	dir := buildtest.Lab(t, twoPages())
	for _, c := range []struct {
		name, raw, says string
		err             error
	}{
		{"nothing", "", "", ErrLeft},
		{"rubbish", "rubbish\n\n", "", errHeader},
		{"a line without an end", strings.Repeat("x", 10<<20), "", errHeader},
		{"a header that goes on", strings.Repeat("X: y\r\n", 10<<10), "", errHeader},
		{"a length that lies", "Content-Length: 9000000\r\n\r\n{}", "", io.ErrUnexpectedEOF},
		{"a length beyond all bounds", "Content-Length: 99999999999\r\n\r\n", "", errTooLong},
		{"a length below nothing", "Content-Length: -1\r\n\r\n", "", errHeader},
		{"no JSON", framed("{nothing"), "-32700", ErrLeft},
		{"no version", framed(`{"id":1,"method":"initialize"}`), `"error"`, ErrLeft},
		{"a wrong version", framed(`{"jsonrpc":"1.0","id":1,"method":"initialize"}`), `"error"`, ErrLeft},
		{"too early", framed(`{"jsonrpc":"2.0","id":7,"method":"textDocument/codeAction","params":{}}`), "-32002", ErrLeft},
		{"no such method", framed(hello, `{"jsonrpc":"2.0","id":2,"method":"lab/none"}`), "-32601", ErrLeft},
		{"hello twice", framed(hello, strings.Replace(hello, `"id":1`, `"id":2`, 1)), "-32600", ErrLeft},
		{"wrong parameters", framed(hello, `{"jsonrpc":"2.0","id":2,"method":"textDocument/codeAction","params":{"textDocument":7}}`), "-32602", ErrLeft},
		{"places that are none", framed(hello, `{"jsonrpc":"2.0","id":2,"method":"textDocument/codeAction","params":{"textDocument":{"uri":"file://`+dir+`/mixing.md"},"range":{"start":{"line":-5,"character":-9},"end":{"line":99999999,"character":0}}}}`), `"id":2`, ErrLeft},
		{"an end without a goodbye", framed(hello, `{"jsonrpc":"2.0","method":"exit"}`), `"capabilities"`, ErrLeft},
		{"a whole session", framed(hello, `{"jsonrpc":"2.0","id":2,"method":"shutdown","params":null}`, `{"jsonrpc":"2.0","method":"exit"}`), `"result":null`, nil},
		{"after the end", framed(hello, `{"jsonrpc":"2.0","id":2,"method":"shutdown"}`, `{"jsonrpc":"2.0","id":3,"method":"shutdown"}`), "-32600", ErrLeft},
	} {
		t.Run(c.name, func(t *testing.T) {
			out, err := talk(t, dir, c.raw)
			if !errors.Is(err, c.err) || !strings.Contains(out, c.says) {
				t.Errorf("%v, want %v; it says %.300s", err, c.err, out)
			}
		})
	}
}

// Nothing outside the content folder is taken for a page of it.
func TestStaysInTheFolder(t *testing.T) {
	f, err := newFolder(buildtest.Lab(t, twoPages()))
	if err != nil {
		t.Fatal(err)
	}
	for _, uri := range []string{"", "mixing.md", "http://x/mixing.md", "file:///etc/passwd", f.address("../other.md"), f.address("a/../../b.md"), "file://" + f.path, "file://" + f.path + "/a%00b", "untitled:1", "file://%zz"} {
		if at, ok := f.within(uri); ok {
			t.Errorf("%s is %s", uri, at)
		}
	}
	for _, p := range []string{"mixing.md", "a/b c.md", "ü#?.md"} {
		if at, ok := f.within(f.address(p)); !ok || at != p {
			t.Errorf("%s is %s, %v", f.address(p), at, ok)
		}
	}
}

// Whatever comes over the pipe, reading it ends without a panic, and every message read was framed.
func FuzzWire(f *testing.F) {
	for _, s := range []string{"", "x", framed("{}", "[]"), "Content-Length: 3\n\nabc", "content-length:1\r\nX:\r\n\r\n1", "Content-Length: 9\r\n\r\n{}"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		w := newWire(io.NopCloser(bytes.NewReader(raw)), io.Discard)
		total := 0
		for !w.over {
			m, err := w.Recv()
			if err != nil {
				return
			}
			if total += len(m); !w.over && total > len(raw) {
				t.Fatalf("%d bytes were read of %d", total, len(raw))
			}
		}
	})
}

// Whatever messages come, the session goes on or ends.
func FuzzSession(f *testing.F) {
	dir := buildtest.Lab(f, twoPages())
	f.Add([]byte(`{"jsonrpc":"2.0","id":2,"method":"textDocument/codeAction","params":{}}`))
	for name := range methods {
		f.Add([]byte(`{"jsonrpc":"2.0","id":2,"method":"` + name + `","params":{"textDocument":{"uri":"file://` + dir + `/mixing.md","text":"---\ntitle: x"},"position":{"line":3,"character":3},"query":"t","newName":"x"}}`))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		if out, _ := talk(t, dir, framed(hello, string(raw))); !strings.Contains(out, `"id":1`) && !strings.Contains(out, `"error"`) {
			t.Fatalf("no answer: %q", out)
		}
	})
}

// A cancelled request, early or late, is answered, and so are those after it.
func TestCancelled(t *testing.T) {
	dir := buildtest.Lab(t, twoPages())
	messages := []string{hello}
	for i := range 50 {
		messages = append(messages,
			fmt.Sprintf(`{"jsonrpc":"2.0","id":%d,"method":"textDocument/codeAction","params":{"textDocument":{"uri":"file://%s/mixing.md"}}}`, i+10, dir),
			fmt.Sprintf(`{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":%d}}`, i+10))
	}
	messages = append(messages, `{"jsonrpc":"2.0","id":2,"method":"shutdown"}`, `{"jsonrpc":"2.0","method":"exit"}`)
	out, err := talk(t, dir, framed(messages...))
	if err != nil || strings.Count(out, `"id":`) != 52 {
		t.Errorf("%v, %d answers", err, strings.Count(out, `"id":`))
	}
}
