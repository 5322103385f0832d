package cardio_test

import (
	"testing"

	"glidepath/seedtest"
)

func TestMain(m *testing.M) { seedtest.Main(m) }
