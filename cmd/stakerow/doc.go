// Command stakerow plans a fence: from corner pins and tape readings to
// numbered post stakes on a scaled plot plan. See stakerow help.
package main
