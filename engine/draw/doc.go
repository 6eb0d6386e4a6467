// Package draw lays out drawings as one display list of lines and words, which
// writers turn into SVG and, later, paper and the screen of the app.
//
// Start with SitePlan; Profile shows a run and Section an area from the side,
// under the beam of a set-up. A Scene is in millimetres of paper, y downwards, from its
// upper left corner; every item names the pen it is drawn with by its meaning.
package draw
