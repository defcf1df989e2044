"""Why a stand stands where it does: what its air does, found as reasons."""
