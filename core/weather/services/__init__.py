"""Forecast services, the network, and the forecasts that are kept."""
