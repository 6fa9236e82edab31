"""Plan, rules and limits to a finished report: remedies tried, likes told as one, several pours, misread heights.

Beside it what a report rests on (the firm file and trust in it, variances, cautions) and what changed since another.
"""
