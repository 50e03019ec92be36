"""Every piece to cut, weld to lay and part to buy."""
