"""slabwright: a rule-based plan checker for concrete slabs on ground."""
