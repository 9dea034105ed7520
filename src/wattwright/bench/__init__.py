"""Work at the vehicle: sheets with what is to be read, where, with what, and what to expect."""
