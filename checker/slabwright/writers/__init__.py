"""What was found, to be read: reviews as sheet, page, JSON and SARIF, proposals, changes, generated pages."""
