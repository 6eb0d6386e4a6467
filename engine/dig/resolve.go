package dig

import "spadework/engine/phrase"

// Resolve turns an excavation into its parts. The error is a *phrase.Fault
// whose Place.Path names the field, such as "bottom.below"; lists count from 0
// there, corners and sides in texts from 1. It is a fault if all of the existing
// ground along the outlines lies under the bottom; if only some does, if there
// is no ground to tell, or no tolerance, that is a note.
func Resolve(x Excavation, site Site) (Dig, error) {
	d := Dig{Excavation: x}
	if err := x.check(); err != nil {
		return Dig{}, err
	}
	resolve := d.resolveArea
	if x.Kind.Run() {
		resolve = d.resolveRun
	}
	if err := resolve(&x, site); err != nil {
		return Dig{}, err
	}
	if err := d.checkUnderGround(site); err != nil {
		return Dig{}, err
	}
	if x.Tolerance == nil {
		d.Notes = append(d.Notes, phrase.New("dig.note.no_tolerance"))
	}
	return d, nil
}
