"""An invented shop, made by calling the services, the same for the same seed."""
