package language

import (
	"fmt"
	"testing"

	"labsite/render/build/buildtest"
)

// Messages after exit do not keep the session from ending.
func TestMessagesAfterExit(t *testing.T) {
	dir := buildtest.Lab(t, twoPages())
	said := []string{hello, `{"jsonrpc":"2.0","id":2,"method":"shutdown"}`, `{"jsonrpc":"2.0","method":"exit"}`}
	for i := range 400 {
		said = append(said, fmt.Sprintf(`{"jsonrpc":"2.0","id":%d,"method":"shutdown"}`, i+3))
	}
	for range 60 {
		if _, err := talk(t, dir, framed(said...)); err != nil {
			t.Fatal(err)
		}
	}
}
