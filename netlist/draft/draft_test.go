package draft

import (
	"os"
	"testing"
)

func TestTry(t *testing.T) {
	data, _ := os.ReadFile("/tmp/w/a.toml")
	i, err := Read("a.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	t.Log(i.Open())
	i.Write(os.Stdout)
}
