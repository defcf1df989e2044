"""The ground: the property file, its models, and its plane of local metres."""
