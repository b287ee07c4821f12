// Package plan turns a Site and a Spec into a Plan: fence lines, gates,
// numbered stakes and the order of work.
//
// Points are ground metres, east and north; along a run everything is whole
// marks. M is the running distance along a fence line. Make reads no file and no clock, and
// the Plan prints as plan.json and reads back the same. It knows no paper.
package plan
