package dig

import (
	_ "embed" // the list of materials
	"strconv"
	"strings"

	"spadework/engine/phrase"
	"spadework/engine/unit"
)

// Material is what is dug, as it swells when dug and shrinks when rolled in.
// Published lists differ widely for the same name, so each carries its source.
type Material struct {
	ID        string
	Swell     float64 // loose volume over bank volume less 1, ≥ 0
	Shrinkage float64 // 1 less compacted volume over bank volume; < 0 for rock, which grows
	Density   float64 // kg/m³ in the bank, 0 not known
	Repose    float64 // angle of repose in radians, 0 not known
	Digs      Digging // how hard it digs
	Source    string  // as the crew names it; of a listed one its key
	Listed    bool    // of the published list
}

// Name is what a material is called.
func (m Material) Name() phrase.Message {
	if m.Listed {
		return phrase.New(phrase.Key("dig.material." + strings.ReplaceAll(m.ID, " ", "_")))
	}
	return phrase.New("dig.material_own", phrase.With("name", m.ID))
}

// From is where the figures of a material come from.
func (m Material) From() phrase.Message {
	if m.Listed {
		return phrase.New(phrase.Key("dig.source." + m.Source))
	}
	return phrase.New("dig.source_own", phrase.With("source", m.Source))
}

// Loose is the volume that a volume in the bank becomes when dug.
func (m Material) Loose(bank unit.Volume) unit.Volume {
	return unit.Volume(float64(bank) * (1 + m.Swell))
}

// Compacted is the volume that a volume in the bank becomes when rolled in.
func (m Material) Compacted(bank unit.Volume) unit.Volume {
	return unit.Volume(float64(bank) * (1 - m.Shrinkage))
}

// BankFor is the volume in the bank that a compacted volume takes.
func (m Material) BankFor(compacted unit.Volume) unit.Volume {
	return unit.Volume(float64(compacted) / (1 - m.Shrinkage))
}

// Mass of a volume in the bank in kilograms, 0 if the density is not known.
func (m Material) Mass(bank unit.Volume) float64 { return float64(bank) * m.Density }

// LoadFactor is loose density over bank density.
func (m Material) LoadFactor() float64 { return 1 / (1 + m.Swell) }

//go:embed materials.csv
var materialList string

// poundsPerCubicYard is kg/m³: the pound is 0.45359237 kg (1959).
const poundsPerCubicYard = 0.45359237 / float64(unit.CubicYard)

// Materials is the published list, by its order. Swell and shrinkage follow from
// the densities: bank over loose, bank over compacted.
func Materials() []Material {
	var out []Material
	for _, line := range strings.Split(strings.TrimSpace(materialList), "\n")[1:] {
		cell := strings.Split(line, ",")
		loose, bank, compacted := figure(cell[1]), figure(cell[2]), figure(cell[3])
		swell, shrinkage := Densities(loose, bank, compacted)
		out = append(out, Material{
			ID: cell[0], Swell: swell, Shrinkage: shrinkage,
			Density: bank * poundsPerCubicYard, Repose: figure(cell[4]) * float64(unit.Degree),
			Digs: Digging(cell[5]), Source: cell[6], Listed: true,
		})
	}
	return out
}

// figure is a number of the list, 0 for an empty cell. The list is compiled in
// and a test reads it, so a bad one panics.
func figure(s string) float64 {
	if s == "" {
		return 0
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic("dig: materials.csv: " + err.Error())
	}
	return v
}

// Densities makes the factors of a material of loose, bank and compacted
// density, in one unit.
func Densities(loose, bank, compacted float64) (swell, shrinkage float64) {
	return bank/loose - 1, 1 - bank/compacted
}
