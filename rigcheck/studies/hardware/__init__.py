"""The smallest standard size of every link and steel part."""
