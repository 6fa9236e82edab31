"""In and out by open formats (survey CSV, GeoJSON, LandXML), and the server for editors."""
