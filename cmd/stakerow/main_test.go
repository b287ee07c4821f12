package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// asProgram has the test binary be the program itself.
const asProgram = "STAKEROW_TEST_AS_PROGRAM"

func TestMain(m *testing.M) {
	if os.Getenv(asProgram) != "" {
		main()
		return
	}
	os.Exit(m.Run())
}

// What the command line returns is the program's exit status; what it says goes
// to standard output, what it complains of to standard error.
func TestTheProgramPassesOnWhatTheCommandLineGives(t *testing.T) {
	for _, c := range []struct {
		args     []string
		code     int
		out, err string
	}{
		{[]string{"help"}, 0, "stakerow plan", ""},
		{[]string{"plan", "missing.yaml"}, 2, "", "there is no file missing.yaml"},
	} {
		program, err := os.Executable()
		require.NoError(t, err)
		cmd := exec.Command(program, c.args...)
		cmd.Env = append(os.Environ(), asProgram+"=1")
		var out, complaints bytes.Buffer
		cmd.Stdout, cmd.Stderr = &out, &complaints
		code := 0
		var exit *exec.ExitError
		if err := cmd.Run(); errors.As(err, &exit) {
			code = exit.ExitCode()
		} else {
			require.NoError(t, err)
		}
		assert.Equal(t, c.code, code, c.args)
		assert.Contains(t, out.String(), c.out, c.args)
		assert.Contains(t, complaints.String(), c.err, c.args)
		if c.err == "" {
			assert.Empty(t, complaints.String(), c.args)
		} else {
			assert.Empty(t, out.String(), c.args)
		}
	}
}
