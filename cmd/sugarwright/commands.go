package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"sugarwright/planner/settings"
)

// root is the program with all its commands.
func root(out, errs io.Writer) *cobra.Command {
	r := &cobra.Command{Use: "sugarwright", Short: "turns a drawing into a build plan for picture hard candy", Version: version, SilenceErrors: true, SilenceUsage: true}
	r.SetOut(out)
	r.SetErr(errs)
	r.CompletionOptions.DisableDescriptions = true
	r.SetFlagErrorFunc(func(c *cobra.Command, err error) error { return meant(c, err) })
	r.SetHelpFunc(func(c *cobra.Command, _ []string) {
		if c == r {
			fmt.Fprint(out, usage)
			return
		}
		fmt.Fprintf(out, "%s\n%s%s", c.UseLine(), c.Long, c.Flags().FlagUsages())
	})
	for _, made := range []func(out, errs io.Writer) *cobra.Command{
		planCommand, checkCommand, simplifyCommand, regionsCommand, lettersCommand, sheetsCommand, jobCommand, shopCommand, recordCommand, learnCommand, compareCommand,
		versionCommand, manualCommand,
	} {
		r.AddCommand(made(out, errs))
	}
	return r
}

// values that a flag may have, for those who complete what is typed.
var values = map[string][]string{
	"paper": {"a4", "letter"}, "wall": {"one", "two"}, "units": {"si", "us"}, "ink": {"colour", "black"}, "place": {"page", "drawing"},
}

// command is one, with its flags, for so many arguments.
func command(use, short string, least, most int) (*cobra.Command, *pflag.FlagSet) {
	c := &cobra.Command{Use: use, Short: short, DisableFlagsInUseLine: true}
	c.Args = func(_ *cobra.Command, args []string) error {
		switch n := len(args); {
		case n < least && least < most:
			return fmt.Errorf("at least %d argument expected, %d given; see sugarwright --help", least, n)
		case n < least || n > most:
			return fmt.Errorf("%d argument expected, %d given; see sugarwright --help", most, n)
		}
		return nil
	}
	return c, c.Flags()
}

// exit is the code that a command ended with, when it has said why.
type exit int

func (e exit) Error() string { return fmt.Sprintf("exit %d", int(e)) }

// does gives a command what it does.
func does(c *cobra.Command, run func() int) *cobra.Command {
	c.RunE = func(*cobra.Command, []string) error {
		if code := run(); code != exitPlan {
			return exit(code)
		}
		return nil
	}
	for name, of := range values {
		if c.Flags().Lookup(name) != nil {
			_ = c.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(of, cobra.ShellCompDirectiveNoFileComp)) // fails only when given twice
		}
	}
	return c
}

// called runs what was called, and says what was wrong with the call.
func called(r *cobra.Command, args []string, errs io.Writer) int {
	r.InitDefaultHelpCmd()
	r.InitDefaultCompletionCmd(args...)
	var names []string
	ours := strings.HasPrefix(args[0], "-") || strings.HasPrefix(args[0], cobra.ShellCompRequestCmd)
	for _, c := range r.Commands() {
		ours = ours || c.Name() == args[0]
		names = append(names, c.Name())
	}
	if !ours {
		near := ""
		if s := settings.Nearest(args[0], names); s != "" {
			near = "; is " + s + " meant?"
		}
		return fail(errs, exitUsage, "no command %q%s\n\n%s", short(args[0]), near, usage)
	}
	r.SetArgs(args)
	err := r.Execute()
	var code exit
	switch {
	case err == nil:
		return exitPlan
	case errors.As(err, &code):
		return int(code)
	}
	return fail(errs, exitUsage, "%v", err)
}

// meant adds to the fault of a flag that is not known the one that is most like it.
func meant(c *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return err
	}
	var names []string
	c.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	if near := settings.Nearest(unknown.GetSpecifiedName(), names); near != "" {
		return fmt.Errorf("%w; is --%s meant?", err, near)
	}
	return err
}
