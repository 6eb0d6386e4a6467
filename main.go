// Command spadework takes an excavation crew from the drawing to the numbers
// on the rod.
package main

func main() {}
