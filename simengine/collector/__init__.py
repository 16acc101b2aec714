"""The collector itself: cover optics, thermal network, air stream, steady point and limits."""
