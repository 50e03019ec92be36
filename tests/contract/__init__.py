"""Outputs as they were last agreed on: hashes of every command on every shipped case, and of arrays of random rigs."""
