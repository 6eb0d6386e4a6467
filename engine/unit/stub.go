package unit

func (r Reader) Length(text string) (Length, error)    { return 0, nil }
func (r Reader) Coordinate(text string) (int64, error) { return 0, nil }
func (r Reader) Station(text string) (Station, error)  { return 0, nil }
func (r Reader) Slope(text string) (Slope, error)      { return Slope{}, nil }
func (r Reader) Ratio(text string) (Slope, error)      { return Slope{}, nil }
func (r Reader) Batter(text string) (Batter, error)    { return Batter{}, nil }
func (r Reader) Angle(text string) (Angle, error)      { return 0, nil }
func (r Reader) Bearing(text string) (Angle, error)    { return 0, nil }
func (r Reader) Accuracy(text string) (Grade, error)   { return 0, nil }

func Micrometres(l Length) int64     { return 0 }
func FromMicrometres(n int64) Length { return 0 }
