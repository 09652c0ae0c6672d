package main

import "runtime/debug"

// version says what the command was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "of an unknown revision"
	}
	return versionOf(info)
}

// versionOf is the release or the revision, whichever the build knows. A build in the tree knows
// its revision, and whether files were changed since; one by `go install` of a release knows the
// release. The release that the toolchain makes up for a build in the tree says no more than the
// revision, so it is ignored.
func versionOf(info *debug.BuildInfo) string {
	revision, changed := "", ""
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			revision = "of revision " + s.Value[:min(12, len(s.Value))]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = ", changed since"
		}
	}
	switch release := info.Main.Version; {
	case revision != "":
		return revision + changed + ", " + info.GoVersion
	case release != "" && release != "(devel)":
		return release + ", " + info.GoVersion
	}
	return "of an unknown revision, " + info.GoVersion
}
