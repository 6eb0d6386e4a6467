package ground

import "spadework/engine/geom"

// Rim calls visit with the edges that have ground on one side only, the ground on
// their left, until visit returns false.
func (t *TIN) Rim(visit func(a, b geom.Point) bool) {
	for f := range t.count() {
		if !t.proper(f) || !t.known(f) {
			continue
		}
		for i := range int32(3) {
			e := f<<2 | i
			if o, ok := t.across(e); ok && t.known(o>>2) {
				continue
			}
			if !visit(t.pts[t.from(e)], t.pts[t.to(e)]) {
				return
			}
		}
	}
}

// Unbroken says that there is ground all over the survey's hull, which is convex:
// no boundary, hole or longest edge took any away.
func (t *TIN) Unbroken() bool {
	for f := range t.count() {
		if t.proper(f) && !t.known(f) {
			return false
		}
	}
	return true
}
