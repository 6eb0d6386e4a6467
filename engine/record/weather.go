package record

// Weather is the weather of the time. Rain makes the day's inspection void.
type Weather struct {
	Rain        bool
	Temperature *float64 // degrees Celsius, nil not read
	Words       string
}

// Kind is KindWeather.
func (*Weather) Kind() Kind { return KindWeather }

// Names is nothing.
func (*Weather) Names() []ID { return nil }

func (w *Weather) walk(f *fields) {
	f.flag("rain", &w.Rain)
	knownFigure(f, "temperature", &w.Temperature, -100, 100)
	f.words("words", &w.Words, true)
}
