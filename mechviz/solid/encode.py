"""Frames as a film in a file: MP4 (H.264) or GIF, through the ffmpeg that imageio-ffmpeg brings."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any, cast

from mechviz.solid.film import Screen
from mechviz.solid.stage import Pixels

SCREENS = {".mp4": Screen(1920, 1080), ".gif": Screen(800, 450)}
"""How large a film is by its file's suffix: a GIF is for a slide or a page."""
GIF_EVERY = 3
"""Of a GIF's frames, every third one is enough."""


def encoded(frames: Iterator[Pixels], path: Path, fps: int, screen: Screen) -> Iterator[int]:
    """Write frames to a film as they come, and tell after each how many there are."""
    import imageio_ffmpeg

    gif = path.suffix.lower() == ".gif"
    rate = fps // GIF_EVERY if gif else fps
    writer = cast(Any, imageio_ffmpeg).write_frames(
        str(path),
        (screen.width, screen.height),
        fps=rate,
        codec="gif" if gif else "libx264",
        pix_fmt_out="rgb8" if gif else "yuv420p",
        macro_block_size=1,
        ffmpeg_log_level="error",
        output_params=PALETTE if gif else QUALITY,
    )
    writer.send(None)
    try:
        for count, frame in enumerate(frames, 1):
            if not gif or count % GIF_EVERY == 1:
                writer.send(frame.tobytes())
            yield count
    finally:
        writer.close()


QUALITY = ["-crf", "21", "-preset", "medium", "-movflags", "+faststart"]
PALETTE = [
    "-filter_complex",
    "split[a][b];[a]palettegen=max_colors=64:stats_mode=diff[p];[b][p]paletteuse=dither=none",
]
"""A GIF's colours, chosen from its own frames."""
