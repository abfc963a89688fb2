"""A Week as a CP-SAT model: one function per rule."""
