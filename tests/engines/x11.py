"""What a person does by a window's edge: another size for a window on a screen of X11, by Xlib."""

from __future__ import annotations

import ctypes
from ctypes import POINTER, byref, c_char_p, c_int, c_uint, c_ulong, c_void_p


def xlib():
    """Load the library that WebKit's own browser draws its windows with."""
    library = ctypes.CDLL("libX11.so.6")
    library.XOpenDisplay.restype = c_void_p
    library.XOpenDisplay.argtypes = [c_char_p]
    library.XDefaultRootWindow.restype = c_ulong
    library.XDefaultRootWindow.argtypes = [c_void_p]
    numbers = [POINTER(c_ulong)] * 2
    library.XQueryTree.argtypes = [
        c_void_p, c_ulong, *numbers, POINTER(POINTER(c_ulong)), POINTER(c_uint)
    ]  # fmt: skip
    library.XGetGeometry.argtypes = [
        c_void_p, c_ulong, POINTER(c_ulong), *[POINTER(c_int)] * 2, *[POINTER(c_uint)] * 4
    ]  # fmt: skip
    library.XResizeWindow.argtypes = [c_void_p, c_ulong, c_uint, c_uint]
    library.XFree.argtypes = [c_void_p]
    library.XCloseDisplay.argtypes = [c_void_p]
    return library


def windows_on(library, display):
    """List the windows that lie on a screen itself, each with its width and height."""
    root, parent, listed, count = c_ulong(), c_ulong(), POINTER(c_ulong)(), c_uint()
    ground = library.XDefaultRootWindow(display)
    library.XQueryTree(display, ground, byref(root), byref(parent), byref(listed), byref(count))
    found = []
    for window in listed[: count.value]:
        (x, y), (width, height, border, depth) = (c_int(), c_int()), [c_uint() for _ in range(4)]
        library.XGetGeometry(
            display, window, byref(root), byref(x), byref(y),
            byref(width), byref(height), byref(border), byref(depth),
        )  # fmt: skip
        found.append((window, (width.value, height.value)))
    library.XFree(listed)
    return found


def resize_window(name, before, after):
    """Give the one window of a screen that has a size another one."""
    library = xlib()
    display = library.XOpenDisplay(name.encode())
    [window] = [window for window, size in windows_on(library, display) if size == before]
    library.XResizeWindow(display, window, *after)
    library.XCloseDisplay(display)
