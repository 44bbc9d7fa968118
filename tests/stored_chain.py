"""The ledger's chain as it is stored, without what its columns say besides."""

from records.queries.ledger import headed_links


def links():
    """List the chain's links, oldest first."""
    return [link for link, _ in headed_links()]
