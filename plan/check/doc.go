// Package check says where a fence may not be: a Plan and its Rules in, the
// same Plan with its findings and its permit checklist out. It moves nothing.
// Every limit is a default that the job may set, with its source beside it;
// none is presented as the law of a place.
//
// Places are ground metres, east and north; a side's inside is to its right.
// Findings give values and limits in metres, chances as shares of 1.
package check
