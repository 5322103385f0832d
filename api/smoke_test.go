package api_test
import ("testing";"net/http/httptest";"os")
func TestSmoke(t *testing.T) {
	d := newDesk(t)
	w := httptest.NewRecorder()
	d.handler.ServeHTTP(w, httptest.NewRequest("GET", "/api/openapi.json", nil))
	os.WriteFile("/tmp/openapi.json", w.Body.Bytes(), 0o644)
	for _, p := range []string{"/me","/athletes","/athletes/"+own+"/appraisal","/roster","/athletes/"+own+"/days?limit=2","/athletes/"+own+"/dossier?futures=100","/athletes/"+own+"/limits","/x"} {
		w := d.send(request{method:"GET",path:p,token:d.tokens["owner"]})
		b := w.Body.String(); if len(b)>400 {b=b[:400]}
		t.Log(p, w.Code, w.Header(), b)
	}
	t.Log(d.logged.String())
}
