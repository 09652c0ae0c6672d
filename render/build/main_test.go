package build

import (
	"os"
	"testing"

	"labsite/recipes/source/sourcetest"
)

func TestMain(m *testing.M) {
	sourcetest.LetGarbageLie()
	os.Exit(m.Run())
}
