package record

// photoMedia are the kinds of picture taken in.
var photoMedia = []string{"image/jpeg", "image/png", "image/webp"}

// maxPhoto bounds a picture's size in bytes.
const maxPhoto = 1 << 30

// Photo names a picture by its digest; the picture itself lies beside the log.
type Photo struct {
	Of         ID     // record it shows, zero none
	Excavation string // "" none
	Digest     Hash   // SHA-256 of the file
	Size       int64  // bytes, > 0
	Media      string
	Words      string
}

// Kind is KindPhoto.
func (*Photo) Kind() Kind { return KindPhoto }

// Names is the record it shows.
func (p *Photo) Names() []ID { return named(p.Of) }

func (p *Photo) walk(f *fields) {
	f.maybeID("of", &p.Of)
	f.maybe("excavation", &p.Excavation)
	f.digest("digest", &p.Digest)
	f.whole("size", &p.Size, 1)
	if p.Size > maxPhoto {
		f.fail("size", "record.photo_size")
	}
	f.choice("media", &p.Media, photoMedia)
	f.words("words", &p.Words, true)
}

// digest is a hash that is not zero.
func (f *fields) digest(key string, p *Hash) {
	text := p.String()
	f.name(key, &text)
	h, ok := readHash(text)
	if !ok || h.IsZero() {
		f.fail(key, "record.hash", quoted(text))
	}
	if f.in != nil {
		*p = h
	}
}
