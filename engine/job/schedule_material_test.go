package job

import "testing"

// A schedule tells concrete and material of each row, in either language's header.
func TestScheduleTellsConcreteAndMaterial(t *testing.T) {
	for _, header := range [][2]string{{"Concrete", "Material"}, {"Hormigón", "Terreno"}} {
		rows := &Rows{File: "f.csv"}
		for i, text := range []string{"id", header[0], header[1]} {
			rows.Header = append(rows.Header, Cell{Text: text, Column: i + 1})
		}
		found, f := FindColumns(rows, []string{"id", "concrete", "material"}, Mapping{})
		if f != nil || found["concrete"] != 1 || found["material"] != 2 {
			t.Errorf("FindColumns(%v) = %v, %v, want concrete in 1 and material in 2", header, found, f)
		}
	}
}
