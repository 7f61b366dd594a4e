"""The composition root: builds every object once and connects what crosses floors."""
