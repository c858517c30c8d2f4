"""Drives the program from outside, as a person with eyes, mouse and keys would.

What is on the screen is read through AT-SPI; clicks and keys are real ones,
sent with xdotool. Needs a display and a session bus of its own: run through
with-display.sh and dbus-run-session.
"""
import os
import subprocess
import sys
import time

SKIP = 77

# Warnings are fatal in the program under test, not in its observer: a window
# that goes away while it is being read makes AT-SPI warn.
FATAL = os.environ.pop("G_DEBUG", None)

try:
    import gi

    gi.require_version("Atspi", "2.0")
    from gi.repository import Atspi, GLib
except (ImportError, ValueError) as missing:
    print(f"AT-SPI for Python is not installed: {missing}", file=sys.stderr)
    sys.exit(SKIP)

WAIT_S = 25
WINDOWS = (Atspi.Role.FRAME, Atspi.Role.DIALOG, Atspi.Role.WINDOW, Atspi.Role.ALERT, Atspi.Role.FILE_CHOOSER)


class Timeout(AssertionError):
    """What was waited for did not come."""


def xdotool(*arguments):
    return subprocess.run(["xdotool", *arguments], check=True, capture_output=True, text=True).stdout


def wait_until(question, what, seconds=WAIT_S):
    """The first true answer to question()."""
    deadline = time.monotonic() + seconds
    while time.monotonic() < deadline:
        try:
            answer = question()
        except GLib.Error:  # it went away while it was looked at
            answer = None
        if answer:
            return answer
        time.sleep(0.1)
    raise Timeout(f"waited {seconds} s for {what}")


class Program:
    """The program under test, and the tree of what it shows."""

    def __init__(self, executable, *arguments):
        environment = {k: v for k, v in os.environ.items() if k != "GTK_A11Y"}
        if FATAL is not None:
            environment["G_DEBUG"] = FATAL
        self.process = subprocess.Popen([executable, *arguments], env=environment)
        self.root = wait_until(self._find_root, "the program on the accessibility bus")
        wait_until(self._find_surface, "a window")

    def __enter__(self):
        return self

    def __exit__(self, *_):
        if self.process.poll() is None:
            self.process.terminate()
            self.process.wait(10)

    def _find_root(self):
        if self.process.poll() is not None:
            raise AssertionError(f"the program ended with {self.process.returncode}")
        desktop = Atspi.get_desktop(0)
        for index in range(desktop.get_child_count()):
            child = desktop.get_child_at_index(index)
            if child is not None and child.get_process_id() == self.process.pid:
                return child
        return None

    def _list_surfaces(self):
        """What of the program is on the screen, the newest last; tooltips too."""
        return subprocess.run(
            ["xdotool", "search", "--onlyvisible", "--pid", str(self.process.pid)], capture_output=True, text=True
        ).stdout.split()

    def _find_surface(self):
        found = self._list_surfaces()
        return found[-1] if found else None

    def _find_place(self, frame):
        """Of the newest surface that the frame fits into: where it is and how large."""
        for surface in reversed(self._list_surfaces()):
            lines = xdotool("getwindowgeometry", "--shell", surface).split()
            place = {name: int(number) for name, number in (line.split("=") for line in lines)}
            if place["WIDTH"] >= frame.width and place["HEIGHT"] >= frame.height:
                return place
        return None

    # --- reading -----------------------------------------------------------

    @staticmethod
    def _is_shown(node):
        """GTK 4.8 marks only windows as showing; what is hidden has no size."""
        shape = node.get_component_iface()
        if shape is None or node.get_role() in WINDOWS:
            return True
        box = shape.get_extents(Atspi.CoordType.WINDOW)
        return box.width > 0 and box.height > 0

    def walk(self, node=None):
        """Every node that shows, parents before children."""
        node = node or self.root
        yield node
        for index in range(node.get_child_count()):
            child = node.get_child_at_index(index)
            if child is not None and self._is_shown(child):
                yield from self.walk(child)

    def look(self, name, role=None, part=False):
        for node in self.walk():
            text = node.get_name() or ""
            fits = name in text if part else name == text
            if fits and (role is None or node.get_role() == role):
                return node
        return None

    def find(self, name, role=None, part=False):
        return wait_until(lambda: self.look(name, role, part), f"“{name}”")

    def find_gone(self, name):
        wait_until(lambda: self.look(name) is None, f"“{name}” to go")

    def explain(self):
        """For the log of a failed test: what there is, and a picture where $SHOTS says."""
        print(f"the program's status: {self.process.poll()}", file=sys.stderr)
        if "SHOTS" in os.environ:
            subprocess.run(["import", "-window", "root", os.path.join(os.environ["SHOTS"], "failed.png")])
        try:
            for node in self.walk():
                print(node.get_role_name(), repr(node.get_name()), file=sys.stderr)
        except GLib.Error as gone:
            print(gone.message, file=sys.stderr)

    # --- doing ---------------------------------------------------------------

    def press(self, *keys):
        for key in keys:
            xdotool("key", "--clearmodifiers", key)
            time.sleep(0.05)

    def type(self, text):
        xdotool("type", "--delay", "12", text)

    @staticmethod
    def _find_window(node):
        """The one it lies in: what the application itself holds, or a popover, which has a surface of its own."""
        while node.get_parent().get_role() != Atspi.Role.APPLICATION and node.get_name() != "GtkPopover":
            node = node.get_parent()
        return node

    def locate(self, name, role=None, part=False):
        """Where on the screen the middle of what is called so is."""
        node = self.find(name, role, part)
        box = node.get_component_iface().get_extents(Atspi.CoordType.WINDOW)
        frame = self._find_window(node).get_component_iface().get_extents(Atspi.CoordType.WINDOW)
        place = wait_until(lambda: self._find_place(frame), "a window")
        # Around the frame lies the surface's own border.
        left = place["X"] + (place["WIDTH"] - frame.width) // 2
        top = place["Y"] + (place["HEIGHT"] - frame.height) // 2
        return left + box.x - frame.x + box.width // 2, top + box.y - frame.y + box.height // 2

    def click(self, name, role=None, part=False):
        """A real click into the middle of what is called so."""
        x, y = self.locate(name, role, part)
        xdotool("mousemove", str(x), str(y), "click", "1")

    def fill(self, name, text):
        """Replaces what an entry holds, by keys."""
        self.click(name, Atspi.Role.TEXT)
        self.press("ctrl+a")
        self.type(text)
