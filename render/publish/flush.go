package publish

import "os"

// flushFolder makes names in a folder durable, as far as the system lets a
// folder be flushed (Windows does not).
func flushFolder(dir string) {
	if f, err := os.Open(dir); err == nil {
		_ = f.Sync()
		_ = f.Close()
	}
}
