// How much room a drawing has between where it begins and what stands on the foot, so that its end is seen as the page
// opens. Measured as the foot takes its size, which is when the page opens and when the glass is turned: a keyboard that
// comes and goes leaves the drawing as it is.
import { useEffect, useState } from "preact/hooks";
import type { RefObject } from "preact";

const kGap = 6; // px of paper between the drawing and the bar

/** The upper edge of what is fixed at the foot: the bar with the deed, else the four words; on wide glass those stand at
    the head. */
function footAt(): number {
  const bars = [...document.querySelectorAll(".deed, .foot")].map((bar) => bar.getBoundingClientRect().top);
  return Math.min(innerHeight, ...bars.filter((top) => top > innerHeight / 2));
}

/** The height of the drawing in `ref`. `least`: on lower glass it ends below the foot rather than becoming unreadable. */
export function useRoom(ref: RefObject<HTMLElement | null>, least: number, most: number): number {
  const [height, setHeight] = useState(least);
  useEffect(() => {
    const foot = document.querySelector(".foot");
    if (!foot) return;
    const watch = new ResizeObserver(() => {
      const drawing = ref.current?.querySelector("svg");
      if (!drawing) return;
      const room = footAt() - (drawing.getBoundingClientRect().top + scrollY) - kGap;
      setHeight(Math.round(Math.min(most, Math.max(least, room))));
    });
    watch.observe(foot);
    return () => watch.disconnect();
  }, []);
  return height;
}
