package language

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
)

// The most bytes that a message may have: a page has up to a megabyte, and JSON may need six bytes
// for one. A client that sends more is not an editor, and the connection ends.
const (
	mostMessage = 16 << 20
	mostHeader  = 8 << 10
)

var (
	errHeader  = errors.New("a message begins with Content-Length: and a number, and an empty line")
	errTooLong = fmt.Errorf("a message has more than %d bytes", mostMessage)
)

// wire frames messages as the protocol does: a header with the length, an empty line, the
// text. It allocates as the bytes come, not as the header says.
type wire struct {
	in   *bufio.Reader
	mu   sync.Mutex
	out  io.Writer
	from io.Closer

	ended   atomic.Bool   // nothing is read any more
	over    bool          // the pipe has ended, and overMessage was sent
	drained chan struct{} // closed when every message before the end is answered
	once    sync.Once
}

// overMessage is a last message to the server when the pipe has ended. At the end of input the
// library drops waiting messages, so that a client that writes all and closes the pipe would get no
// answer; this one holds the end back until they are answered.
const overMessage = `{"jsonrpc":"2.0","method":"$/labsite/over"}`

func newWire(in io.ReadCloser, out io.Writer) *wire {
	return &wire{in: bufio.NewReaderSize(in, 64<<10), out: out, from: in, drained: make(chan struct{})}
}

// Recv reads the next message; io.EOF if the pipe ended between two, or end was called.
func (w *wire) Recv() ([]byte, error) {
	raw, err := w.next()
	if w.ended.Load() {
		return nil, io.EOF
	}
	return raw, err
}

func (w *wire) next() ([]byte, error) {
	if w.over {
		<-w.drained
		return nil, io.EOF
	}
	length, err := w.header()
	if errors.Is(err, io.EOF) {
		w.over = true
		return []byte(overMessage), nil
	}
	if err != nil {
		return nil, err
	}
	var b strings.Builder
	n, err := io.CopyN(&b, w.in, int64(length))
	if err != nil || n < int64(length) {
		return nil, io.ErrUnexpectedEOF
	}
	return []byte(b.String()), nil
}

func (w *wire) header() (length int, err error) {
	length = -1
	for read := 0; ; {
		raw, err := w.in.ReadSlice('\n')
		read += len(raw)
		switch {
		case errors.Is(err, io.EOF) && read == 0:
			return 0, io.EOF
		case errors.Is(err, bufio.ErrBufferFull) || read > mostHeader:
			return 0, errHeader
		case err != nil:
			return 0, err
		}
		line := strings.TrimRight(string(raw), "\r\n")
		if line == "" {
			if length < 0 {
				return 0, errHeader
			}
			return length, nil
		}
		name, value, found := strings.Cut(line, ":")
		if !found {
			return 0, errHeader
		}
		if !strings.EqualFold(strings.TrimSpace(name), "content-length") {
			continue
		}
		if length, err = strconv.Atoi(strings.TrimSpace(value)); err != nil || length < 0 {
			return 0, errHeader
		}
		if length > mostMessage {
			return 0, errTooLong
		}
	}
}

// Send writes one message.
func (w *wire) Send(message []byte) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	if _, err := fmt.Fprintf(w.out, "Content-Length: %d\r\n\r\n", len(message)); err != nil {
		return err
	}
	_, err := w.out.Write(message)
	return err
}

// answered says that every message before the end of the pipe is answered.
func (w *wire) answered() { w.once.Do(func() { close(w.drained) }) }

// end has the server stop by itself, at its next read. Its own Stop can panic: if a message arrives
// at that moment, it is signalled over a channel that was just closed.
func (w *wire) end() {
	w.ended.Store(true)
	w.Close()
}

// Close ends reading.
func (w *wire) Close() error {
	w.answered()
	return w.from.Close()
}
