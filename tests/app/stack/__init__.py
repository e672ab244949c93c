"""Tests of app.stack."""
