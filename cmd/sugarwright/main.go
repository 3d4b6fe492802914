// Command sugarwright turns a client's drawing into a build plan for picture hard candy.
package main

import (
	"fmt"
	"io"
	"os"

	"github.com/spf13/pflag"
)

// Exit codes.
const (
	exitPlan     = 0  // a proven plan; warnings may stand
	exitRefused  = 1  // the artwork cannot be built as drawn
	exitUsage    = 2  // usage, or an input that cannot be read
	exitOutput   = 3  // an output that cannot be written
	exitInternal = 70 // our own fault
)

const usage = `sugarwright turns a drawing into a build plan for picture hard candy.

  sugarwright plan ARTWORK.svg [--out DIR]     the plan and every sheet, into a folder
  sugarwright check ARTWORK.svg [--out F.svg]  can it be made, and what is in the way
  sugarwright simplify ARTWORK.svg --out F.svg the drawing that can be made, changed as little as is seen
  sugarwright regions ARTWORK.svg --out F.svg  what was understood: the flat areas
  sugarwright letters "A & B" --out F.svg      initials or a short word as a drawing that is made to be built
  sugarwright job                              an order's details, to edit and pass with --job
  sugarwright shop                             the shop's settings, to edit and pass with --shop
  sugarwright shop --check FILE                are these in order, and what do the shop's own tests say

'sugarwright plan --help' lists the settings of one order.
Exit: 0 a proven plan; 1 the drawing cannot be built as drawn; 2 a wrong call or an unreadable
file; 3 an output that cannot be written; 70 a fault of the program.
`

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is the whole command; it never panics through.
func run(args []string, out, errs io.Writer) (code int) {
	defer func() {
		if x := recover(); x != nil {
			fmt.Fprintf(errs, "sugarwright: internal fault: %v\nThis is our fault, not the drawing's: please report it with the drawing.\n", x)
			code = exitInternal
		}
	}()
	if len(args) == 0 {
		fmt.Fprint(errs, usage)
		return exitUsage
	}
	switch args[0] {
	case "plan":
		return planCommand(args[1:], out, errs)
	case "check":
		return checkCommand(args[1:], out, errs)
	case "simplify":
		return simplifyCommand(args[1:], out, errs)
	case "regions":
		return regionsCommand(args[1:], out, errs)
	case "letters":
		return lettersCommand(args[1:], out, errs)
	case "job":
		return jobCommand(args[1:], out, errs)
	case "shop":
		return shopCommand(args[1:], out, errs)
	case "help", "--help", "-h":
		fmt.Fprint(out, usage)
		return exitPlan
	}
	fmt.Fprintf(errs, "sugarwright: no command %q\n\n%s", args[0], usage)
	return exitUsage
}

// parse runs the flags; done is true when the command has been answered already.
func parse(fs *pflag.FlagSet, args []string, want int, out, errs io.Writer) (code int, done bool) {
	fs.SetOutput(errs)
	fs.Usage = func() {}
	if err := fs.Parse(args); err != nil {
		if err == pflag.ErrHelp {
			fmt.Fprintf(out, "%s\n%s", fs.Name(), fs.FlagUsages())
			return exitPlan, true
		}
		fmt.Fprintf(errs, "sugarwright: %v\n", err)
		return exitUsage, true
	}
	if fs.NArg() != want {
		fmt.Fprintf(errs, "sugarwright: %d argument expected, %d given; see sugarwright --help\n", want, fs.NArg())
		return exitUsage, true
	}
	return 0, false
}
