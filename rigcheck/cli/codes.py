"""Exit codes, which are a contract: a crash can never read as a finding."""

NOTHING_OVER = 0
SOMETHING_OVER = 1
UNUSABLE_INPUT = 2
OUR_BUG = 70
INTERRUPTED = 130
