"""The journal of a build: its revisions, readings, photos and sign-offs.

A file beside the build file, or a database that its URL names. ``keeper.Keeper`` opens it, and is
the only way in which a build file is changed.
"""
