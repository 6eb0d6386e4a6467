package dig

// Resolve turns an excavation into its parts. The error is a *phrase.Fault
// whose Place.Path names the field, such as "bottom.below".
func Resolve(x Excavation, site Site) (Dig, error) { return Dig{Excavation: x}, nil }
