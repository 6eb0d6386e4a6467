package server

import (
	"context"
	"encoding/hex"
	"errors"
	"io"
	"net/http"
	"slices"
	"strconv"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humago"

	"spadework/engine/phrase"
	"spadework/engine/record"
	"spadework/store"
)

// photoTime is how long a phone may take to send a picture.
const photoTime = 5 * time.Minute

// pictures are the media types that are taken, by what their bytes begin with as
// the WHATWG MIME Sniffing standard tells it.
var pictures = []string{"image/jpeg", "image/png", "image/webp"}

// photoBody is the body of a request, read as it comes.
type photoBody struct {
	Digest string `path:"digest" pattern:"^[0-9a-f]{64}$"`
	body   io.Reader
}

// Resolve takes the body before huma does.
func (p *photoBody) Resolve(ctx huma.Context) []error {
	r, w := humago.Unwrap(ctx)
	if err := http.NewResponseController(w).SetReadDeadline(time.Now().Add(photoTime)); err != nil && !errors.Is(err, http.ErrNotSupported) {
		return []error{err}
	}
	p.body = r.Body
	return nil
}

type photoInput struct {
	Digest string `path:"digest" pattern:"^[0-9a-f]{64}$"`
}

type photoOutput struct {
	Body struct {
		Digest string `json:"digest"`
		Size   int64  `json:"size"`
		Media  string `json:"media"`
	}
}

// registerPhotos adds sending and showing pictures.
func (v *Server) registerPhotos(api huma.API) {
	anyPicture := map[string]*huma.MediaType{"application/octet-stream": {Schema: &huma.Schema{Type: huma.TypeString, Format: "binary"}}}
	huma.Register(api, huma.Operation{
		OperationID: "put-photo", Method: http.MethodPut, Path: "/api/photos/{digest}", Summary: "A picture, named by the SHA-256 of its bytes",
		RequestBody: &huma.RequestBody{Content: anyPicture}, BodyReadTimeout: -1,
	}, v.putPhoto)
	huma.Register(api, huma.Operation{
		OperationID: "get-photo", Method: http.MethodGet, Path: "/api/photos/{digest}", Summary: "A picture",
		Responses: map[string]*huma.Response{"200": {Description: "the picture", Content: anyPicture}},
	}, v.getPhoto)
}

func (v *Server) putPhoto(ctx context.Context, in *photoBody) (*photoOutput, error) {
	head := make([]byte, 512)
	n, err := io.ReadFull(in.body, head)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) && !errors.Is(err, io.EOF) {
		return nil, v.fail(ctx, fault(phrase.Invalid, "server.body", phrase.With("detail", err.Error())))
	}
	head = head[:n]
	media := http.DetectContentType(head)
	if !isPicture(media) {
		return nil, v.fail(ctx, fault(Unsupported, "server.picture", phrase.With("value", media)))
	}
	p, err := v.store.SavePhoto(ctx, hashOf(in.Digest), media, io.MultiReader(&prefix{head}, in.body))
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	out := &photoOutput{}
	out.Body.Digest, out.Body.Size, out.Body.Media = p.Digest, p.Size, p.Media
	return out, nil
}

// prefix reads bytes that were read before.
type prefix struct{ left []byte }

// Read reads on.
func (p *prefix) Read(b []byte) (int, error) {
	if len(p.left) == 0 {
		return 0, io.EOF
	}
	n := copy(b, p.left)
	p.left = p.left[n:]
	return n, nil
}

func isPicture(media string) bool {
	for _, p := range pictures {
		if media == p {
			return true
		}
	}
	return false
}

// hashOf reads a digest whose form was checked.
func hashOf(digest string) (h record.Hash) {
	if _, err := hex.Decode(h[:], []byte(digest)); err != nil {
		return record.Hash{}
	}
	return h
}

func (v *Server) getPhoto(ctx context.Context, in *photoInput) (*huma.StreamResponse, error) {
	if err := v.ownPhoto(ctx, in.Digest); err != nil {
		return nil, v.fail(ctx, err)
	}
	p, body, err := v.store.Photo(ctx, hashOf(in.Digest))
	if err != nil {
		return nil, v.fail(ctx, err)
	}
	return &huma.StreamResponse{Body: func(h huma.Context) { v.stream(h, p, body) }}, nil
}

// ownPhoto refuses a picture that no record of the caller's jobs names, as one
// that is not there.
func (v *Server) ownPhoto(ctx context.Context, digest string) error {
	c := callerOf(ctx)
	if c.open {
		return nil
	}
	jobs, err := v.store.JobsWithPhoto(ctx, hashOf(digest))
	if err != nil || slices.ContainsFunc(jobs, func(job string) bool { return c.may(job, everybody) }) {
		return err
	}
	return fault(phrase.NotFound, "store.no_photo", phrase.With("digest", digest))
}

// stream sends a picture. It is named by its bytes, so it may be kept for good.
func (v *Server) stream(h huma.Context, p store.Photo, body io.Reader) {
	h.SetHeader("Content-Type", p.Media)
	h.SetHeader("Content-Length", strconv.FormatInt(p.Size, 10))
	h.SetHeader("Cache-Control", "private, max-age=31536000, immutable")
	h.SetStatus(http.StatusOK)
	if _, err := io.Copy(h.BodyWriter(), body); err != nil {
		v.log.Warn("photo not sent to its end", "digest", p.Digest, "error", err)
	}
}
