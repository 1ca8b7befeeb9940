package cli

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The program judges paper on the machine it stands on. What would trace it,
// serve it or fetch rules for it has no place in the binary, and would cost
// every run its start.
func TestTheBinaryLinksNoTracingServersOrRegistries(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "guidecoat/cmd/guidecoat").Output()
	if err != nil {
		t.Skipf("go list does not run here: %v", err)
	}
	packages := strings.Fields(string(out))
	if len(packages) < 100 {
		t.Fatalf("only %d packages are listed", len(packages))
	}
	for _, p := range packages {
		for _, unwanted := range []string{
			"go.opentelemetry.io", "github.com/prometheus", "google.golang.org/grpc", "oras.land", "github.com/containerd",
			"github.com/open-policy-agent/opa/v1/sdk", "github.com/open-policy-agent/opa/v1/server", "github.com/open-policy-agent/opa/v1/plugins",
			"github.com/open-policy-agent/opa/v1/runtime", "github.com/open-policy-agent/opa/v1/download", "github.com/open-policy-agent/opa/cmd/internal",
			"github.com/dgraph-io", "github.com/bytecodealliance", "net/http/pprof", "expvar", "internal/generate",
		} {
			if p == unwanted || strings.HasPrefix(p, unwanted+"/") || p == filepath.ToSlash(filepath.Join("guidecoat", unwanted)) {
				t.Errorf("%s is linked in", p)
			}
		}
	}
}
