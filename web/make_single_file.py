#!/usr/bin/env python3
"""Writes the page as one file that opens from a device's storage: make_single_file.py SITE OUTPUT.

SITE is the folder that make_site.cmake wrote. Which styles and scripts there are, and in which order, says its index.html. All of
them, the engine and the notices stand in OUTPUT; its policy names each script and style by the hash of its text, so that nothing else
runs and nothing is fetched.
"""

import base64
import hashlib
import html
import re
import sys
from pathlib import Path


def read_text(path):
    """Text as the browser takes it from between two tags: it would change the ends of lines of another system, and so the hash."""
    text = path.read_bytes().decode()
    if "\r" in text:
        sys.exit(f"{path} has a carriage return")
    return text


def read_element(path, tag):
    """The same for a script or style, which must not end its own element."""
    text = read_text(path)
    if re.search(rf"</{tag}|<!--", text, re.IGNORECASE):
        sys.exit(f"{path} holds text that would end its element")
    return text


def hash_text(text):
    return "'sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode() + "'"


def replace_all(page, pattern, make):
    """Each place of the pattern by what make gives for its match; there must be one."""
    page, count = re.subn(pattern, make, page)
    if count == 0:
        sys.exit(f"index.html has nothing like {pattern}")
    return page


def make_policy(policy, script_hashes, style_hashes):
    """The policy of the folder, with hashes where it says 'self', and nothing at all where there is nothing to load."""
    own = {"script-src": " ".join(script_hashes), "style-src": " ".join(style_hashes), "img-src": "data:"}
    kept = []
    for directive in policy.split("; "):
        name, *sources = directive.split(" ")
        sources = [own.get(name, "") if source == "'self'" else source for source in sources]
        if any(sources):
            kept.append(" ".join([name, *filter(None, sources)]))
    return "; ".join(kept)


def make_page(site):
    page = read_text(site / "index.html")
    hashes = {"script": [], "style": []}

    def inline(tag, name):
        text = read_element(site / name, tag)
        hashes[tag].append(hash_text(text))
        return f"<{tag}>{text}</{tag}>"

    def encode(name):
        return base64.b64encode((site / name).read_bytes()).decode()

    notices = html.escape(read_text(site / "notices.txt"), quote=False)
    page = replace_all(page, r'<link rel="manifest"[^>]*>\n', lambda m: "")
    page = replace_all(page, r'(<link rel="icon" href=")icon\.svg"', lambda m: f'{m[1]}data:image/svg+xml;base64,{encode("icon.svg")}"')
    page = replace_all(page, r' <a href="notices\.txt">(.*?)</a></p>', lambda m: f"</p><details><summary>{m[1]}</summary><pre>{notices}</pre></details>")
    page = replace_all(page, r'<link rel="stylesheet" href="([^"]*)">', lambda m: inline("style", m[1]))
    page = replace_all(page, r'<script src="([^"]*)"></script>', lambda m: inline("script", m[1]))
    engine = f'<script type="text/plain" id="engine-bytes">{encode("engine.bin")}</script>\n'
    page = page.replace("<script>", engine + "<script>", 1)
    policy = r'(http-equiv="Content-Security-Policy" content=")([^"]*)'
    return replace_all(page, policy, lambda m: m[1] + make_policy(m[2], hashes["script"], hashes["style"]))


def main():
    site, output = (Path(name) for name in sys.argv[1:])
    output.write_bytes(make_page(site).encode())


if __name__ == "__main__":
    main()
