package phrase

// Key names a text, room first: "beam.backsights_disagree".
type Key string

// Arg is one named value of a message: a unit quantity, a string, an int, a
// float64 that has no unit, a Message, or a []string that reads as a list.
type Arg struct {
	Name  string
	Value any
}

// Message is a text not yet rendered.
type Message struct {
	Key  Key
	Args []Arg
}

// New is the message of a key with its arguments.
func New(key Key, args ...Arg) Message { return Message{Key: key, Args: args} }

// With names a value for a message.
func With(name string, value any) Arg { return Arg{Name: name, Value: value} }

// IsZero says that there is no message.
func (m Message) IsZero() bool { return m.Key == "" }

// arg is the value called name, nil if there is none.
func (m Message) arg(name string) any {
	for _, a := range m.Args {
		if a.Name == name {
			return a.Value
		}
	}
	return nil
}
