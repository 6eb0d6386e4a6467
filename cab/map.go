package cab

import "spadework/engine/draw"

// Map is the site plan.
type Map struct {
	Scene *Scene `json:"scene"`
}

// The map is drawn for a phone held upright.
const mapWidth, mapHeight = 120, 150

// Map is the site plan as it is now.
func (c *Cab) Map() Map {
	return Map{sceneOf(draw.SitePlan(c.plan, draw.Voice(c.view), draw.Frame{Width: mapWidth, Height: mapHeight, Type: sceneType}))}
}
