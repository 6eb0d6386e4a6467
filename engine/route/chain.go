package route

// depthLimit ends a chain of reversals; breadth is how many ways on are tried
// at its first links, one thereafter. Figures as D. Applegate, W. Cook and A.
// Rohe use them for short chains (INFORMS J. Computing 15 (2003) 82–92), from
// memory.
const depthLimit = 10

var breadth = [...]int{5, 3, 1}

// chain is one attempt to shorten a tour: an edge from anchor to end is taken
// out, the end joined to a near place, and so on; the anchor stays.
type chain struct {
	anchor, end int32
	gain        float64 // of edges taken out over edges put in, before closing
	forward     bool    // the end follows the anchor
}

// link is one way on: the end joins place, and leaves becomes the new end.
type link struct {
	place, leaves int32
	gain          float64
}

// descend shortens the tour until no queued place begins a chain that does;
// it returns the change in cost, zero or less.
func (r *Route) descend() float64 {
	change := 0.0
	for head := 0; head < len(r.queue); head++ {
		place := r.queue[head]
		r.queued[place] = false
		for gain := r.improve(place); gain > 0; gain = r.improve(place) {
			change -= gain
		}
	}
	r.queue = r.queue[:0]
	return change
}

// improve tries chains from a place both ways and returns what the first good
// one gains.
func (r *Route) improve(place int32) float64 {
	for _, forward := range [...]bool{true, false} {
		end := r.tour.previous(place)
		if forward {
			end = r.tour.next(place)
		}
		c := chain{place, end, r.at(place, end), forward}
		if gain := r.extend(c, 0); gain > improvement {
			r.push(place)
			r.push(end)
			return gain
		}
	}
	return 0
}

// extend goes on with a chain and returns the gain of the closed tour it
// leaves behind; with no gain the tour is as before.
func (r *Route) extend(c chain, depth int) float64 {
	var room [neighboursKept]link
	width := 1
	if depth < len(breadth) {
		width = breadth[depth]
	}
	for _, l := range r.links(c, room[:0], width) {
		undo := len(r.undo)
		shifted := r.join(c, l)
		joined := len(r.undo)
		best := l.gain - r.at(l.leaves, c.anchor)
		if depth+1 < depthLimit {
			if deeper := r.extend(shifted, depth+1); deeper > best {
				best = deeper
			} else {
				r.takeBack(joined)
			}
		}
		if best > improvement {
			r.pushLink(l)
			return best
		}
		r.takeBack(undo)
	}
	return 0
}

func (r *Route) pushLink(l link) {
	r.push(l.place)
	r.push(l.leaves)
}

func (r *Route) takeBack(to int) {
	for i := len(r.undo) - 1; i >= to; i-- {
		r.tour.reverse(r.undo[i])
	}
	r.undo = r.undo[:to]
}

// links lists the best ways on: near places to join, by what is gained when
// their old neighbour becomes the end.
func (r *Route) links(c chain, room []link, width int) []link {
	for _, place := range r.near[c.end] {
		rest := c.gain - r.at(c.end, place)
		if rest <= improvement {
			break
		}
		leaves := r.tour.next(place)
		if c.forward {
			leaves = r.tour.previous(place)
		}
		if place == c.anchor || leaves == c.end {
			continue
		}
		room = insert(room, link{place, leaves, rest + r.at(place, leaves)}, width)
	}
	return room
}

// insert keeps the width links of most gain, the earlier of two equal ones.
func insert(links []link, l link, width int) []link {
	i := len(links)
	for i > 0 && links[i-1].gain < l.gain {
		i--
	}
	if i >= width {
		return links
	}
	if len(links) < width {
		links = append(links, l)
	}
	copy(links[i+1:], links[i:])
	links[i] = l
	return links
}

// join puts in the edge from the end to the link's place and takes out the one
// to leaves, by turning round what lies between; of the two halves of the tour
// the shorter is turned, which swaps the chain's sense when it is the other.
func (r *Route) join(c chain, l link) chain {
	t := &r.tour
	from, to := t.where[c.end], t.where[l.leaves]
	otherFrom, otherTo := t.where[l.place], t.where[c.anchor]
	if !c.forward {
		from, to = to, from
		otherFrom, otherTo = otherTo, otherFrom
	}
	forward := c.forward
	if 2*t.span(from, to) > len(t.order) {
		from, to = otherFrom, otherTo
		forward = !forward
	}
	r.flip(int(from), int(to))
	return chain{c.anchor, l.leaves, l.gain, forward}
}

// splitMix is the generator of G. L. Steele, D. Lea and C. H. Flood (2014):
// small, and the same everywhere.
type splitMix uint64

func (s *splitMix) next() uint64 {
	*s += 0x9e3779b97f4a7c15
	z := uint64(*s)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// below is a number from 0 to n−1.
func (s *splitMix) below(n int) int { return int(s.next() % uint64(n)) }
