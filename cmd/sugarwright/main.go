// Command sugarwright turns a client's drawing into a build plan for picture hard candy.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"sugarwright/geom/artwork"
	"sugarwright/output"
	"sugarwright/planner"
	"sugarwright/planner/intake"
	"sugarwright/planner/plan"
	"sugarwright/planner/settings"
	"sugarwright/planner/size"
	"sugarwright/render/terminal"
	"sugarwright/render/words"
)

// collectAt percent of what is in use may be garbage before it is collected: a tenth faster than at 100, for 15 MB more.
const collectAt = 200

// Exit codes.
const (
	exitPlan     = 0   // a proven plan; warnings may stand
	exitRefused  = 1   // the artwork cannot be built as drawn
	exitUsage    = 2   // usage, or an input that cannot be read
	exitOutput   = 3   // an output that cannot be written
	exitInternal = 70  // our own fault
	exitStopped  = 128 // and the number of the signal
)

const usage = `sugarwright turns a drawing into a build plan for picture hard candy.

  sugarwright plan ARTWORK.svg [--out DIR]      the plan and every sheet, into a folder
  sugarwright plan --job ORDER.toml             all the drawings that an order names, and the order as a whole
  sugarwright check ARTWORK.svg [--out F.svg]   can it be made, and what is in the way
  sugarwright simplify ARTWORK.svg --out F.svg  a version that can be made, with the least visible change
  sugarwright regions ARTWORK.svg --out F.svg   the flat colour areas as read from the file
  sugarwright letters "A & B" --out F.svg       initials or a short word as a drawing that is made to be built
  sugarwright sheets PLAN.json [--out DIR]      the sheets of a plan again, in another language, paper or ink
  sugarwright job [ARTWORK.svg]                 an order's details, to edit and pass with --job; with the drawing's colours
  sugarwright shop                              the shop's settings, to edit and pass with --shop
  sugarwright shop --check FILE                 check a settings file and evaluate the shop's tests
  sugarwright record PLAN.json                  a log's record, to fill in by hand; the bench page saves one too
  sugarwright learn RECORD... --shop FILE       the shop's own minutes, losses and densities from records
  sugarwright compare PLAN.json RECORD          where a plan and the day parted
  sugarwright version                           which version this is
  sugarwright manual [COMMAND]                  the manual page, for man
  sugarwright completion bash|fish|powershell|zsh  what a shell needs to complete commands and flags

'sugarwright plan --help' lists the settings of one order.
Exit: 0 a proven plan; 1 the drawing cannot be built as drawn; 2 a wrong call or an unreadable
file; 3 an output that cannot be written; 70 a fault of the program.
`

const ourFault = "This is our fault, not the drawing's: please report it with the drawing.\n"

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(collectAt)
	}
	stopped := make(chan os.Signal, 1)
	signal.Notify(stopped, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	go func() {
		s := <-stopped
		output.Stop() // what is being written is written whole first
		fmt.Fprintln(os.Stderr, "sugarwright: stopped")
		os.Exit(exitStopped + int(s.(syscall.Signal)))
	}()
	out, errs := &output.Told{To: output.Shown{To: os.Stdout}}, output.Shown{To: os.Stderr}
	go guard(errs, onTerminal(os.Stderr, errs))
	code := run(os.Args[1:], out, errs)
	if out.Err != nil {
		code = fail(errs, exitOutput, "the standard output was lost: %v", out.Err)
	}
	os.Exit(code)
}

// run is the whole command; it never panics through.
func run(args []string, out, errs io.Writer) (code int) {
	defer func() {
		if x := recover(); x != nil {
			code = fail(errs, exitInternal, "internal fault: %v\n%s", x, ourFault)
		}
	}()
	if len(args) == 0 {
		fmt.Fprint(errs, usage)
		return exitUsage
	}
	if args[0] == "help" && len(args) == 1 || args[0] == "--help" || args[0] == "-h" {
		fmt.Fprint(out, usage)
		return exitPlan
	}
	return called(root(out, errs), args, errs)
}

// fail says what went wrong and returns the exit code for it.
func fail(errs io.Writer, code int, format string, values ...any) int {
	fmt.Fprintf(errs, "sugarwright: "+format+"\n", values...)
	return code
}

// failCompile says why a drawing gave no result, and whose fault it is.
func failCompile(errs io.Writer, name string, err error) int {
	var faults settings.Faults
	if errors.As(err, &faults) {
		return fail(errs, exitUsage, "%v", err)
	}
	var bad *artwork.SyntaxError
	var other *artwork.KindError
	for _, ours := range []error{size.ErrOrder, intake.ErrSize, planner.ErrKeep, planner.ErrOffer} {
		if errors.As(err, &bad) || errors.As(err, &other) || errors.Is(err, ours) {
			return fail(errs, exitUsage, "%s: %v", name, err)
		}
	}
	return fail(errs, exitInternal, "%s: %v\n%s", name, err, ourFault)
}

// sayFindings prints a plan's findings, one a line.
func sayFindings(errs io.Writer, t *words.Table, name string, p *plan.Plan) {
	for _, f := range p.Findings {
		fmt.Fprintln(errs, terminal.Finding(t, p, name, f))
	}
}

func verdictCode(p *plan.Plan) int {
	if p.Verdict == plan.AsDrawn {
		return exitPlan
	}
	return exitRefused
}
