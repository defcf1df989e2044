"""The settings of a ground on the Map screen: each change is tried before it is kept."""
