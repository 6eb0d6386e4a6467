// Command sheets makes the sheets of a job as the command line does, from one
// JSON request to the bytes of a PDF. Built for js/wasm it is the page's module
// of that name and gives the page one function, spadeworkSheets; built for any
// other system it reads a request from its input and writes the PDF.
package main
