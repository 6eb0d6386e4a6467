package safety

// Answer is yes, no or not known, which the zero Answer is.
type Answer string

// The answers.
const (
	Unknown Answer = ""
	Yes     Answer = "yes"
	No      Answer = "no"
)

// AnswerOf is Yes for true, No for false.
func AnswerOf(b bool) Answer {
	if b {
		return Yes
	}
	return No
}
