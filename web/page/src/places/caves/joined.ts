// Many boards as few: neighbours of one lot and state are one line, "A1 to A7". Pure but for words.
import type { Board } from "../../api";
import { t } from "../../words";

const kMost = 6; // boards of one cave that are drawn one by one

type Likeness = (board: Board) => string;
const byLot: Likeness = (board) => [...new Set(board.wheels.map((w) => `${w.lot} ${w.state}`))].sort().join("|");
const byState: Likeness = (board) => [...new Set(board.wheels.map((w) => w.state))].sort().join("|");

/** The shelf of a board: "A" of "A5". A span of boards stays within one: from "A5 to B4" nobody knows where A ends. */
const shelfOf = (board: Board) => board.place.replace(/\s*\d+$/, "");

function joinedBy(boards: Board[], like: Likeness): Board[] {
  const found: { boards: Board[]; key: string }[] = [];
  for (const board of boards) {
    const last = found[found.length - 1];
    const key = `${shelfOf(board)} ${like(board)}`;
    if (last && last.key === key) last.boards.push(board);
    else found.push({ boards: [board], key });
  }
  return found.map(({ boards: [first, ...others] }) => {
    const last = others[others.length - 1];
    return last ? { place: t("caves.joined", { first: first!.place, last: last.place }), wheels: [first!, ...others].flatMap((b) => b.wheels) } : first!;
  });
}

/** Joined as far as it takes: by lot and state, then by state alone. */
export function boardsShown(boards: Board[]): Board[] {
  if (boards.length <= kMost) return boards;
  const lots = joinedBy(boards, byLot);
  return lots.length <= kMost ? lots : joinedBy(boards, byState);
}
