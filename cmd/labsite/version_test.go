package main

import (
	"runtime/debug"
	"testing"
)

func TestVersion(t *testing.T) {
	revision := debug.BuildSetting{Key: "vcs.revision", Value: "f85a7ed71d2b0123456789abcdef0123456789ab"}
	for _, x := range []struct {
		name, release string
		settings      []debug.BuildSetting
		want          string
	}{
		{"built in the tree", "v0.0.0-20261128202433-f85a7ed71d2b", []debug.BuildSetting{revision, {Key: "vcs.modified", Value: "false"}}, "of revision f85a7ed71d2b, go1.26"},
		{"built in a changed tree", "v0.0.0-20261128202433-f85a7ed71d2b+dirty", []debug.BuildSetting{revision, {Key: "vcs.modified", Value: "true"}}, "of revision f85a7ed71d2b, changed since, go1.26"},
		{"a release from elsewhere", "v1.2.0", nil, "v1.2.0, go1.26"},
		{"built without git", "(devel)", nil, "of an unknown revision, go1.26"},
	} {
		t.Run(x.name, func(t *testing.T) {
			info := &debug.BuildInfo{GoVersion: "go1.26", Main: debug.Module{Version: x.release}, Settings: x.settings}
			if got := versionOf(info); got != x.want {
				t.Errorf("%q, not %q", got, x.want)
			}
		})
	}
}
