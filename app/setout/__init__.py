"""Where holes come on wall and skin, drawn and told for one who marks and drills them."""
