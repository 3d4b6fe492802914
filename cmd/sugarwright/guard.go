package main

import (
	"fmt"
	"io"
	"os"
	"runtime/metrics"
	"time"

	"sugarwright/output"
)

// The hard guard behind the bounds that every stage has (by counts, so that the same input gives the same answer on any
// machine). No drawing that is known comes near it: it is there so that a fault of ours takes no machine down.
const (
	mostSeconds = 600
	mostMemory  = 4 << 30 // bytes
	everyGuard  = 200 * time.Millisecond
)

// guard ends a run that takes more time or memory than any may, with what is being written written whole first; told
// is where a person is told that half of the time has gone, nil where nobody looks.
func guard(errs, told io.Writer) {
	begun := time.Now()
	used := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	for range time.Tick(everyGuard) {
		metrics.Read(used)
		why := ""
		switch took := time.Since(begun).Seconds(); {
		case used[0].Value.Uint64() > mostMemory:
			why = fmt.Sprintf("more than %d MB of memory", mostMemory>>20)
		case took > mostSeconds:
			why = fmt.Sprintf("more than %d s", mostSeconds)
		case took > mostSeconds/2 && told != nil:
			fmt.Fprintf(
				told,
				"sugarwright: still at work: half of the %d s that a run may take are spent\n",
				mostSeconds,
			)
			told = nil
		}
		if why != "" {
			output.Stop()
			os.Exit(fail(errs, exitInternal, "stopped: the run takes %s\n%s", why, ourFault))
		}
	}
}

// onTerminal is a writer to a person, nil where the output goes elsewhere.
func onTerminal(f *os.File, w io.Writer) io.Writer {
	if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
		return w
	}
	return nil
}
