"""Plain data: what becomes JSON, made by one function and only read by all others."""

from collections.abc import Mapping
from typing import Any, TypeAlias

Plain: TypeAlias = dict[str, Any]
PlainView: TypeAlias = Mapping[str, Any]
