// Package level turns level notes into elevations and tells what they are
// worth: runs and loops with their page check and misclosure, networks by least
// squares, and the checks of rod, level and laser.
//
// Start with Reduce for a run, Adjust for its correction, Network.Adjust for
// several runs that share points. Signs: HI = elevation + backsight, elevation =
// HI − foresight, misclosure = computed − known, cut = ground − design =
// grade rod − ground rod; a larger rod reading is lower ground.
package level
