"""Traces for a virus scare, from one plant: who stood near, who came from it, who was cut after it."""
