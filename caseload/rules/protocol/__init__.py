"""The protocol: every number a clinic may set, with its unit, range and source."""

from caseload.rules.protocol.read import Problem, read_protocol, shipped, shipped_text
from caseload.rules.protocol.settings import Caution, Limit, Protocol, SkinLimit

__all__ = ["Caution", "Limit", "Problem", "Protocol", "SkinLimit", "read_protocol", "shipped", "shipped_text"]
