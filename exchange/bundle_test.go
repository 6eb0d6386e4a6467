package exchange

import (
	"errors"
	"io/fs"
	"reflect"
	"strings"
	"testing"

	"spadework/engine/phrase"
	"spadework/examples"
)

func TestBundleOfExamplesReadsTheSameJob(t *testing.T) {
	for _, name := range []string{"alder-quay", "fennel-yard", "sorrel-bank"} {
		folder, err := fs.Sub(examples.Files, name)
		if err != nil {
			t.Fatal(err)
		}
		open := func(file string) ([]byte, error) { return fs.ReadFile(folder, file) }
		b, err := BundleOf("job.toml", open)
		if err != nil {
			t.Fatalf("BundleOf(%s) = %v", name, err)
		}
		again, fault := DecodeBundle(b.Encode())
		if fault != nil || !reflect.DeepEqual(again, b) {
			t.Fatalf("DecodeBundle(Encode(%s)) = %v, want the bundle", name, fault)
		}
		got, _, err := again.Job()
		if err != nil {
			t.Fatalf("Job(%s) = %v", name, err)
		}
		data, err := open("job.toml")
		if err != nil {
			t.Fatal(err)
		}
		want, _, err := ReadJob("job.toml", data, open)
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("Job(%s) of the bundle is not the folder's (%v)", name, err)
		}
	}
}

func TestDecodeBundleFaults(t *testing.T) {
	cases := []struct{ data, key string }{
		{``, "exchange.bundle_json"},
		{`{"format":1,"main":"a","files":{"a":""}} {}`, "exchange.bundle_json"},
		{`{"format":1,"main":"a","files":{"a":""},"x":1}`, "exchange.bundle_json"},
		{`{"format":2,"main":"a","files":{"a":""}}`, "exchange.bundle_format"},
		{`{"format":1,"main":"b","files":{"a":""}}`, "exchange.bundle_main"},
		{`{"format":1,"main":"a","files":{"a":"","../b":""}}`, "exchange.bundle_name"},
		{`{"format":1,"main":"a","files":{"a":"","b\\c":""}}`, "exchange.bundle_name"},
		{`{"format":1,"main":"a","files":{"a":"",".b":""}}`, "exchange.bundle_name"},
		{`{"format":1,"main":"a","files":{"a":"","":""}}`, "exchange.bundle_name"},
		{`{"format":1,"main":"a","files":{"a":"` + strings.Repeat("x", MaxBundle+1) + `"}}`, "exchange.bundle_size"},
	}
	for _, c := range cases {
		_, f := DecodeBundle([]byte(c.data))
		if f == nil || string(f.What.Key) != c.key {
			t.Errorf("DecodeBundle(%.60s) = %v, want %s", c.data, f, c.key)
		}
	}
}

// FuzzDecodeBundle: what is read is written and read again the same.
func FuzzDecodeBundle(f *testing.F) {
	f.Add([]byte(`{"format":1,"main":"job.toml","files":{"job.toml":"[job]\n","ground.csv":"x,y,z\n"}}`))
	f.Add([]byte(`{"format":1,"main":"a","files":{"a":"\ud800"}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, fault := DecodeBundle(data)
		if fault != nil {
			return
		}
		again, fault := DecodeBundle(b.Encode())
		if fault != nil || !reflect.DeepEqual(again, b) {
			t.Fatalf("DecodeBundle(Encode(%q)) = %v, %v", data, again, fault)
		}
		if _, _, err := b.Job(); err != nil {
			var known *phrase.Fault
			if !errors.As(err, &known) {
				t.Fatalf("Job of %q = %v, want a fault", data, err)
			}
		}
	})
}
