// Command engine answers a page's requests about a job, as package cab tells
// them. Built for js/wasm it is the page's module of that name and gives the
// worker one function, spadeworkEngine; built for any other system it reads
// requests, a line each, from its input and writes the answers, so that both can
// be held against each other. With the tag foreman it answers for the foreman's page
// as well, in a module of its own.
package main
