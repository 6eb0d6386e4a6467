package cab

import (
	"math"

	"spadework/engine/draw"
)

// Scene is a drawing as the page draws it: millimetres, y down.
type Scene struct {
	Width  float64 `json:"width"`
	Height float64 `json:"height"`
	Items  []Item  `json:"items"`
}

// Item is a line, an outline or a text.
type Item struct {
	Pen    string    `json:"pen"`
	Points []float64 `json:"points"` // x, y, x, y …
	Closed bool      `json:"closed,omitempty"`
	Fill   int       `json:"fill,omitempty"` // 0 hollow, 1 tint, 2 solid
	Text   string    `json:"text,omitempty"`
	Size   float64   `json:"size,omitempty"`
	Anchor string    `json:"anchor,omitempty"`
	Upward bool      `json:"upward,omitempty"`
	Strong bool      `json:"strong,omitempty"`
}

func sceneOf(s draw.Scene) *Scene {
	out := &Scene{Width: s.Width, Height: s.Height, Items: make([]Item, len(s.Items))}
	for i, it := range s.Items {
		points := make([]float64, 0, 2*len(it.Points))
		for _, p := range it.Points {
			points = append(points, hundredth(p.X), hundredth(p.Y))
		}
		out.Items[i] = Item{string(it.Pen), points, it.Closed, int(it.Fill), it.Text, it.Size, string(it.Anchor), it.Upward, it.Set == draw.Strong}
	}
	return out
}

// hundredth rounds to what a screen shows, 0.01 mm.
func hundredth(x float64) float64 { return math.Round(x*100) / 100 }
