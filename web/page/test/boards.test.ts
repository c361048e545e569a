import assert from "node:assert/strict";
import { test } from "node:test";
import type { Board, BoardWheel } from "../src/api.ts";
import { runs, together } from "../src/draw/boards.tsx";
import { boardsShown } from "../src/places/caves/joined.ts";

let next = 0;
const wheels = (count: number, lot: number, more: Partial<BoardWheel> = {}): BoardWheel[] =>
  Array.from({ length: count }, (_, i) => ({ id: ++next, state: "ripening", number: i + 1, lot, marked: false, held: false, cut: false, ...more }));
const board = (place: string, ...of: BoardWheel[][]): Board => ({ place, wheels: of.flat() });

test("neighbours of one lot in one state stand together; another lot on the same board stands apart", () => {
  assert.deepEqual(runs([...wheels(9, 214), ...wheels(5, 219), ...wheels(1, 219, { state: "ready" })]).map((r) => r.wheels.length), [9, 5, 1]);
});

test("more wheels than there is room for are a ring and a figure; a marked one keeps its own ring", () => {
  const many = [...wheels(40, 214), ...wheels(1, 214, { marked: true }), ...wheels(1, 214, { held: true })];
  assert.deepEqual(together(many).map((t) => t.count), [40, 1, 1]);
});

test("six boards are drawn as they are; of more, neighbours of one lot are joined, and every wheel is still there", () => {
  const six = Array.from({ length: 6 }, (_, i) => board(`A${i + 1}`, wheels(14, 214)));
  assert.deepEqual(boardsShown(six), six);
  const room = [...Array.from({ length: 7 }, (_, i) => board(`A${i + 1}`, wheels(14, 214))), board("B1", wheels(9, 208, { state: "ready" })), board("B2", wheels(9, 208, { state: "ready" }))];
  const shown = boardsShown(room);
  assert.deepEqual(shown.map((b) => [b.place, b.wheels.length]), [["A1 to A7", 98], ["B1 to B2", 18]]);
});

test("a span of boards stays within one shelf, however alike the next one is", () => {
  const room = ["A5", "A6", "A7", "A8", "B1", "B2", "B3", "B4"].map((place) => board(place, wheels(10, 214)));
  assert.deepEqual(boardsShown(room).map((b) => [b.place, b.wheels.length]), [["A5 to A8", 40], ["B1 to B4", 40]]);
});

test("where many lots alternate, boards are joined by state alone", () => {
  const room = Array.from({ length: 20 }, (_, i) => board(`S${i + 1}`, wheels(15, i % 2)));
  assert.deepEqual(boardsShown(room).map((b) => [b.place, b.wheels.length]), [["S1 to S20", 300]]);
});
