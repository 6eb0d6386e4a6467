//go:build !page

package sheet

import (
	"net/url"
	"strings"
)

// CardAddress is the address that opens a card in the app that is served at a
// base: base#/dig/F7/B2/job, the set-up a dash where there is none. The app tells
// a card of another job from those of the one it has open. What stands after #
// stays on the phone that reads it.
func CardAddress(base string, k Card) string {
	setup := k.Setup
	if setup == "" {
		setup = "-"
	}
	return strings.TrimSuffix(base, "#") + "#/dig/" + url.PathEscape(k.Excavation) + "/" + url.PathEscape(setup) + "/" + url.PathEscape(k.Job)
}
