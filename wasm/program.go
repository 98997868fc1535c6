//go:build !(js && wasm)

package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"sort"
)

// What a command answers to the shell.
const (
	exitDone     = 0 // done, nothing to report
	exitProblems = 1 // done, and what was read has problems, which were printed
	exitFailed   = 2 // not done: wrong command line, unreadable file, broken machine
)

// A command is one word after the program's name.
type command struct {
	name  string
	usage string // the rest of its line, such as "[-json] NOTE"
	short string // what it does, in one line
	run   func(ctx context.Context, p *program, args []string) int
}

// commands holds every command by name. Each stands in a file of its own,
// which adds itself here: var _ = add(command{...}).
var commands = map[string]command{}

func add(c command) bool {
	commands[c.name] = c
	return true
}

// A program is one run of fairlead with its three streams. The text that other
// programs read goes to out; what people read about the run goes to err.
type program struct {
	in       io.Reader
	out, err io.Writer
}

// Run carries out one command line, given without the program's name, and
// returns the exit code: 0 done, 1 problems were found and printed, 2 failed.
func Run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	p := &program{in: stdin, out: stdout, err: stderr}
	if len(args) == 0 {
		p.help(p.err)
		return exitFailed
	}
	switch args[0] {
	case "help", "-h", "-help", "--help":
		p.help(p.out)
		return exitDone
	}
	c, ok := commands[args[0]]
	if !ok {
		return p.fail(fmt.Errorf("there is no command %q", args[0]), `type "fairlead help" for the list`)
	}
	return c.run(ctx, p, args[1:])
}

func (p *program) help(w io.Writer) {
	fmt.Fprint(w, "fairlead keeps the operation note, the handover sheet and the bedside check of a child\nafter an operation for a single ventricle.\n\n")
	names := make([]string, 0, len(commands))
	for name := range commands {
		names = append(names, name)
	}
	sort.Strings(names)
	for _, name := range names {
		c := commands[name]
		fmt.Fprintf(w, "  fairlead %s %s\n        %s\n", c.name, c.usage, c.short)
	}
	fmt.Fprint(w, "\nExit code: 0 done, 1 problems were found and printed, 2 failed.\n")
}

// fail prints what went wrong and what to do about it, and returns the exit
// code for failure.
func (p *program) fail(err error, hint string) int {
	fmt.Fprintf(p.err, "fairlead: %v\n", err)
	if hint != "" {
		fmt.Fprintf(p.err, "          %s\n", hint)
	}
	return exitFailed
}

// flags reads a command's options. When it returns false the command ends with
// the exit code beside it: the options were wrong, or only help was wanted.
func (p *program) flags(name string, args []string, define func(*flag.FlagSet)) (rest []string, code int, ok bool) {
	set := flag.NewFlagSet(name, flag.ContinueOnError)
	set.SetOutput(p.err)
	set.Usage = func() {
		c := commands[name]
		fmt.Fprintf(p.err, "fairlead %s %s\n%s\n", c.name, c.usage, c.short)
		set.PrintDefaults()
	}
	define(set)
	switch err := set.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return nil, exitDone, false
	case err != nil:
		return nil, exitFailed, false
	}
	return set.Args(), exitDone, true
}
