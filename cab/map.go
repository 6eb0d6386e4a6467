package cab

import "spadework/engine/draw"

// Map is the site plan.
type Map struct {
	Scene *Scene `json:"scene"`
}

// The map is drawn for a phone held upright.
var mapFrame = draw.Frame{Width: 120, Height: 150, Type: sceneType}

// Map is the site plan as it is now.
func (c *Cab) Map() Map { return Map{sceneOf(draw.SitePlan(c.plan, draw.Voice(c.view), mapFrame))} }
