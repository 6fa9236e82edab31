"""The order sheet: everything to buy and haul for one plan."""
