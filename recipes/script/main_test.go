package script

import (
	"flag"
	"os"
	"testing"

	"labsite/recipes/source/sourcetest"
)

func TestMain(m *testing.M) {
	flag.Parse()
	_ = flag.Set("rapid.nofailfile", "true") // the failing page is in the message
	sourcetest.LetGarbageLie()
	os.Exit(m.Run())
}
