"""The build's memory: revisions, readings, photos, sign-offs, and copies of all of it."""
