"""What a build is: typed records, how they are read from a folder, and how they are edited."""
