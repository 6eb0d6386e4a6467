// Command release makes what is given away: "licences" gathers the licences of
// everything that the program holds into LICENCES, "build" builds it for every
// system into a folder, with SHA256SUMS. It runs in the root of the module.
//
//	go run ./tools/release licences
//	go run ./tools/release build -version 1.0.0 -o dist
package main

import (
	"flag"
	"fmt"
	"os"
	"strings"
)

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

// licencesFile is kept with the source and goes out with the programs.
const licencesFile = "LICENCES"

func run(args []string) error {
	if len(args) == 1 && args[0] == "licences" {
		text, err := licences()
		if err != nil {
			return err
		}
		return os.WriteFile(licencesFile, text, 0o644)
	}
	if len(args) > 0 && args[0] == "build" {
		flags := flag.NewFlagSet("build", flag.ContinueOnError)
		r := release{}
		flags.StringVar(&r.folder, "o", "dist", "folder to write to")
		flags.StringVar(&r.version, "version", "", "version to tell")
		flags.StringVar(&r.commit, "commit", "", "commit to tell")
		only := flags.String("only", strings.Join(targets, ","), "systems to build for")
		again := flags.Bool("again", false, "build everything again, without what is kept")
		if err := flags.Parse(args[1:]); err != nil {
			return err
		}
		r.targets, r.again = strings.Split(*only, ","), *again
		return r.build()
	}
	return fmt.Errorf("%q is neither licences nor build", args)
}
