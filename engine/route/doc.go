// Package route finds the order of least travel among places, whatever they
// are: stands of a machine, set-ups of a laser. It takes the cost of travel
// between each two and knows nothing else. Start with New.
package route
