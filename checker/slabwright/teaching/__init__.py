"""Teaching from the rules: pages for apprentices, believable faults in sound jobs, exercises, small drawings."""
