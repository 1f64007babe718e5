"""Printed documents as PDF; the only room that knows reportlab, imported at first use."""
