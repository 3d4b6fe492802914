package main

import (
	"fmt"
	"io"
	"runtime"
	"runtime/debug"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

// version of the program, and its day; see CHANGELOG.md.
const version = "0.9.0"

var versionDay = time.Date(2026, time.November, 28, 0, 0, 0, 0, time.UTC)

// versionCommand says which program this is, and of which state of its source.
func versionCommand(out, _ io.Writer) *cobra.Command {
	c, _ := command("version", "which version this is, and for which system", 0, 0)
	return does(c, func() int {
		state := ""
		if info, ok := debug.ReadBuildInfo(); ok {
			for _, s := range info.Settings {
				switch {
				case s.Key == "vcs.revision" && len(s.Value) >= 10:
					state = ", source " + s.Value[:10]
				case s.Key == "vcs.modified" && s.Value == "true":
					state += ", changed"
				}
			}
		}
		fmt.Fprintf(out, "sugarwright %s, %s/%s%s\n", version, runtime.GOOS, runtime.GOARCH, state)
		return exitPlan
	})
}

// manualCommand prints the manual page of the program, or of one of its commands.
func manualCommand(out, errs io.Writer) *cobra.Command {
	c, fs := command("manual [COMMAND]", "the manual page of the program or of a command, for man", 0, 1)
	return does(c, func() int {
		of := c.Root()
		if fs.NArg() == 1 {
			found, _, err := of.Find(fs.Args())
			if err != nil || found == of {
				return fail(errs, exitUsage, "no command %q", short(fs.Arg(0)))
			}
			of = found
		}
		of.Root().DisableAutoGenTag = true
		if err := doc.GenMan(of, &doc.GenManHeader{Section: "1", Source: "sugarwright " + version, Date: &versionDay}, out); err != nil {
			return fail(errs, exitInternal, "%v\n%s", err, ourFault)
		}
		return exitPlan
	})
}
