"""Rules about the site: lines, trees, lot, permits."""
