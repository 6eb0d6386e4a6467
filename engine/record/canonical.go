package record

// CanonicalJSON writes a value as RFC 8785 has it: no blanks, keys in order,
// numbers in the fewest digits. It takes nil, bool, int, float64, string, []any,
// map[string]any and Record; a figure that is not finite is null, as is anything
// else.
func CanonicalJSON(v any) []byte { return canonical(v).append(nil) }

func canonical(v any) value {
	switch x := v.(type) {
	case bool:
		return value{kind: boolValue, flag: x}
	case int:
		return numberOf(float64(x))
	case float64:
		if x-x != 0 {
			return value{}
		}
		return numberOf(x)
	case string:
		return textOf(x)
	case Record:
		var f fields
		x.walk(&f)
		return f.out.value()
	case []any:
		out := value{kind: listValue}
		for _, m := range x {
			out.list = append(out.list, canonical(m))
		}
		return out
	case map[string]any:
		return canonicalObject(x)
	}
	return value{}
}

// canonicalObject sorts the keys, so the map's own order does not show.
func canonicalObject(x map[string]any) value {
	var o object
	for key, m := range x {
		o.set(key, canonical(m))
	}
	return o.value()
}

// Digest is one SHA-256 over records, each counted once: of their hashes, one
// behind the other, by device and number. Records may come in any order.
func Digest(records []Record) Hash {
	var all []byte
	for _, e := range gather(records) {
		all = append(all, e.hash[:]...)
	}
	return sumOf(all)
}

// Sorted is records by device, number and id, each counted once.
func Sorted(records []Record) []Record {
	entries := gather(records)
	out := make([]Record, len(entries))
	for i, e := range entries {
		out[i] = e.Record
	}
	return out
}

// Until splits records into those that heads had seen and those after them: of a
// device without a head, all are after.
func Until(records []Record, heads []Chain) (seen, after []Record) {
	last := map[string]int64{}
	for _, c := range heads {
		last[c.Device] = c.Head.Seq
	}
	for _, r := range records {
		if r.Seq <= last[r.Device] {
			seen = append(seen, r)
			continue
		}
		after = append(after, r)
	}
	return seen, after
}
