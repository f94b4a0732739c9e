package compiler_test

import "testing"

func TestEveryExampleBuildsWithoutAnErrorOrAWarning(t *testing.T) {
	for _, j := range examples(t) {
		t.Run(j.name, func(t *testing.T) { j.clean(t) })
	}
}
