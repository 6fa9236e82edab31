"""A commented design to start from: answers are read, worked into numbers, and written as a foreman would."""
