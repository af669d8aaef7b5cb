"""Measurements that no test depends on."""
