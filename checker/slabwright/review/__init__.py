"""Plan, rules and limits to a finished report; the firm file, cautions and variances."""
