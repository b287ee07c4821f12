package survey

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestFeatureWords(t *testing.T) {
	for want, f := range map[string]Feature{
		"tree":                 {Role: RoleTree},
		"tree oak":             {Role: RoleTree, Name: "oak"},
		"pool":                 {Role: RolePool, Name: "pool"},
		"building house":       {Role: RoleBuilding, Name: "house"},
		"gas line":             {Role: RoleUtility, Kind: "gas", Name: "gas", Form: Path},
		"gas line to the shed": {Role: RoleUtility, Kind: "gas", Name: "gas line to the shed", Form: Path},
		"gas line north":       {Role: RoleUtility, Kind: "gas", Name: "north", Form: Path},
		"water utility meter":  {Role: RoleUtility, Kind: "water", Name: "meter", Form: Spot},
		"utility":              {Role: RoleUtility, Form: Path},
	} {
		assert.Equal(t, want, f.Words())
	}
}
