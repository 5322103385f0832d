package api

import (
	"context"
	"net/http"
	"strconv"
	"strings"

	"github.com/danielgtaylor/huma/v2"

	"glidepath/access"
	"glidepath/account"
)

// rule says who may take a route.
type rule int

const (
	onAthlete rule = iota // who may do the route's action to the athlete in the path
	onDesk                // who may do the action to the desk as a whole
	onList                // who may see some athlete; the handler shows those they may
	onRoster              // the same, but no athlete
	onAdding              // who may take in an athlete
	anybody               // who is signed in
)

// route is one address with its rule and what it leaves in the record.
type route struct {
	method, path string // under /api/v1
	id, summary  string // for the description
	rule         rule
	do           access.Action
	words        string   // for the record, with no name in them
	status       int      // of success; 0 is 200
	most         int64    // bytes of a body; 0 is maxBody
	takes        []string // media types of the body, where it is no JSON
	gives        string   // media type of the answer, where it is no JSON
	dated        bool     // the words are followed by the date in the path, and stand for all of it within a while
	secret       bool     // answers with a secret, which is kept nowhere
	noted        bool     // the use case keeps its own record of what it did
}

func (r *route) pattern() string { return r.method + " /api/v1" + r.path }

// check is nil where the visitor may take the route.
func (r *route) check(v *account.Visitor, athleteID string) error {
	switch r.rule {
	case onAthlete:
		return v.Check(r.do, athleteID)
	case onDesk:
		return v.Check(r.do, "")
	case onList:
		return v.CheckList()
	case onRoster:
		return v.CheckRoster()
	case onAdding:
		return v.CheckAdd()
	}
	return v.CheckAnybody()
}

// visit is one request on its way through the gate to a handler and back.
type visit struct {
	*account.Visitor
	athletes []string // for the record: whom it is about
	failed   error    // what happened inside, for the log
}

type visitKey struct{}

// by is the name that goes with what the visitor changes.
func (v *visit) by() string { return v.Name }

// add puts a route up with its handler.
func add[I, O any](s *server, r route, handle func(context.Context, *visit, *I) (*O, error)) {
	if r.rule == onAthlete && (r.do == "" || !strings.Contains(r.path, "{athlete}")) {
		panic("api: " + r.pattern() + " does not say what is done to whom")
	}
	s.routes[r.pattern()] = &r
	status := r.status
	if status == 0 {
		status = http.StatusOK
	}
	op := huma.Operation{
		OperationID: r.id, Method: r.method, Path: "/api/v1" + r.path, Summary: r.summary, DefaultStatus: status,
		MaxBodyBytes: -1, // the gate has read it already
		Responses:    map[string]*huma.Response{},
	}
	if r.gives != "" {
		op.Responses[strconv.Itoa(status)] = &huma.Response{Content: binary(r.gives)}
	}
	if r.method == http.MethodPost && !r.secret {
		op.Parameters = append(op.Parameters, &huma.Param{
			Name: keyHeader, In: "header", Schema: &huma.Schema{Type: huma.TypeString, MinLength: new(1), MaxLength: new(maxKey)},
			Description: "A name for this request, made up by the client: sent again within a day, it is answered the same and not done twice.",
		})
	}
	huma.Register(s.huma, op, func(ctx context.Context, in *I) (*O, error) {
		v := ctx.Value(visitKey{}).(*visit)
		out, err := handle(ctx, v, in)
		if err == nil {
			return out, nil
		}
		p, ok := problemOf(err)
		if !ok {
			v.failed = err
		}
		return nil, p
	})
	described := s.huma.OpenAPI().Paths["/api/v1"+r.path]
	registered := operationOf(described, r.method)
	if len(r.takes) > 0 {
		registered.RequestBody.Content = binary(r.takes...)
	}
	describeRule(registered, &r, status)
}

// binary is a body that is a file of one of the media types.
func binary(types ...string) map[string]*huma.MediaType {
	out := map[string]*huma.MediaType{}
	for _, name := range types {
		out[name] = &huma.MediaType{Schema: &huma.Schema{Type: huma.TypeString, Format: "binary"}}
	}
	return out
}

func operationOf(p *huma.PathItem, method string) *huma.Operation {
	switch method {
	case http.MethodGet:
		return p.Get
	case http.MethodPost:
		return p.Post
	case http.MethodPut:
		return p.Put
	}
	return p.Delete
}

// describeRule says in the description which scope a token needs.
func describeRule(op *huma.Operation, r *route, status int) {
	scope := "any scope"
	switch r.rule {
	case onAthlete, onDesk:
		scope = "the scope " + string(account.ScopeOf(r.do))
	case onList, onRoster:
		scope = "the scope " + string(account.ScopeRead)
	case onAdding:
		scope = "the scope " + string(account.ScopeDecide)
	}
	op.Description = "A token needs " + scope + "."
	if answer := op.Responses[strconv.Itoa(status)]; answer != nil && answer.Description == "" {
		answer.Description = http.StatusText(status)
	}
}
