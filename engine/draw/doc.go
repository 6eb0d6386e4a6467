// Package draw lays out drawings as one display list of lines and words, which
// writers turn into SVG, PDF, pictures and the screen of the app.
//
// Start with SitePlan; Profile shows a run and Section an area from the side,
// under the beam of a set-up; KeyPlan shows where one dig lies; DeviationPlot and
// ControlChart show shots and closes. A Scene is in millimetres of paper, y
// downwards, from its upper left corner; every item names the pen it is drawn with
// by its meaning. A number to dig to comes from WorkFigureOf as LiveRod, PlannedSum or
// TapedDepth, so that a planned one can not be drawn as a live one.
package draw
