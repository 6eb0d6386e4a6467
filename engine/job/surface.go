package job

import (
	"strings"

	"spadework/engine/geom"
	"spadework/engine/ground"
	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// surface takes a regular grid and turns it into metres.
func (d *decoder) surface(g *table) *Ground {
	name := g.text("surface")
	plan, planTold := d.gridScale(g, "unit")
	height, heightTold := d.gridScale(g, "height_unit")
	data, ok := d.files.Grids[name]
	if !ok {
		if strings.TrimSpace(name) != "" {
			d.rows(g, "surface", name)
		}
		return nil
	}
	if !planTold {
		plan = d.gridUnit(g, "unit", data.Plan, data.Bare && d.plan == unit.Metres)
	} else {
		d.sameUnit(g, "unit", plan, data.Plan)
	}
	if !heightTold {
		height = d.gridUnit(g, "height_unit", data.Height, data.Bare && d.scale == unit.Metres)
	} else {
		d.sameUnit(g, "height_unit", height, data.Height)
	}
	if d.fault != nil {
		return nil
	}
	surface, err := ground.NewGrid(d.inMetres(data.GridData, plan, height))
	if err != nil {
		d.groundFault(g, err)
		return nil
	}
	return &Ground{Surface: surface}
}

// scaleNames are the units of a grid.
var scaleNames = []string{"m", "ft", "us_survey_ft"}

// gridScale is a unit that the job tells of a grid.
func (d *decoder) gridScale(g *table, key string) (unit.Scale, bool) {
	told := g.has(key)
	return []unit.Scale{unit.Metres, unit.Feet, unit.SurveyFeet}[g.choice(key, scaleNames, 0)], told
}

// gridUnit is the unit that the file tells; bare figures are metres where the
// job's own bare figures are. Anything else is asked for.
func (d *decoder) gridUnit(g *table, key string, file *unit.Scale, bareMetres bool) unit.Scale {
	if file == nil && !bareMetres {
		g.fail("surface", phrase.New("job.grid_unit", phrase.With("key", key)), phrase.New("job.grid_unit.remedy", phrase.With("key", key)))
	}
	if file == nil {
		return unit.Metres
	}
	return *file
}

// sameUnit faults a unit of the job that is not the file's.
func (d *decoder) sameUnit(g *table, key string, told unit.Scale, file *unit.Scale) {
	if file != nil && *file != told {
		g.fail(key, phrase.New("job.grid_other_unit", phrase.With("value", told.String()), phrase.With("file", file.String())),
			phrase.New("job.grid_other_unit.remedy", phrase.With("key", key)))
	}
}

// inMetres is a grid in metres from the job's local origin. The grid read is not
// changed: a job may name it twice.
func (d *decoder) inMetres(g ground.GridData, plan, height unit.Scale) ground.GridData {
	k, o := plan.Metres(), d.job.Origin
	g.Origin = geom.Point{
		X: float64(g.Origin.X*k) - float64(unit.FromMicrometres(o.X)),
		Y: float64(g.Origin.Y*k) - float64(unit.FromMicrometres(o.Y)),
	}
	g.DX, g.DY = g.DX*k, g.DY*k
	if height == unit.Metres {
		return g
	}
	z := make([]float64, len(g.Z))
	for i, v := range g.Z {
		z[i] = v * height.Metres()
	}
	g.Z = z
	return g
}
