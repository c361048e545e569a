// A keeper's acts over the wire: durable before they are answered, counted once, refused in one sentence.
import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";
import { day, enterWheel } from "../support/keeping.ts";
import { newId, Watch } from "../support/watch.ts";

const hour = 3_600_000;

describe("acts", () => {
  let watch: Watch, wheels: number[];
  before(async () => {
    watch = await Watch.start();
    ({ wheels } = await enterWheel(watch));
  });
  after(() => watch.end());

  const turn = () => ({ id: newId(), kind: "care", tapped_at: Date.now(), wheels, done: ["turn"], skipped: [] });
  const linesOf = async (id: string) =>
    (await watch.get("/api/journal")).lines.filter((line: { id: string }) => line.id === id);

  test("the same bytes get the same answer and count once, however often they are sent", async () => {
    const body = JSON.stringify(turn());
    const first = await watch.send(body);
    assert.equal(first.status, 200, first.text);
    for (let i = 0; i < 3; ++i) {
      const again = await watch.send(body, { "Sent-At": String(Date.now() + 1000) });
      assert.deepEqual([again.status, again.text], [200, first.text]);
    }
    assert.equal((await linesOf(JSON.parse(body).id)).length, 1);
  });

  test("many sendings of the same bytes at once count once", async () => {
    const body = JSON.stringify(turn());
    const answers = await Promise.all(Array.from({ length: 8 }, () => watch.send(body)));
    assert.deepEqual([...new Set(answers.map((answer) => `${answer.status} ${answer.text}`))].length, 1);
    assert.equal((await linesOf(JSON.parse(body).id)).length, 1);
  });

  test("the same id with other bytes is refused and changes nothing", async () => {
    const act = turn();
    const first = await watch.send(act);
    const other = await watch.send({ ...act, done: ["wash"] });
    assert.equal(other.status, 409);
    assert.match((other.json as any).error.what, /\.$/);
    const again = await watch.send(act);
    assert.deepEqual([again.status, again.text], [200, first.text]);
    const [line] = await linesOf(act.id);
    assert.deepEqual(line.done, ["turn"]);
  });

  test("an answered act survives SIGKILL at once", async () => {
    const act = turn();
    assert.equal((await watch.send(act)).status, 200);
    await watch.end("SIGKILL");
    await watch.up();
    assert.equal((await linesOf(act.id)).length, 1);
  });

  test("an undo that arrives before its act holds", async () => {
    const act = turn();
    await watch.did({ kind: "undo", of: act.id });
    assert.equal((await watch.send(act)).status, 200);
    assert.equal((await linesOf(act.id))[0].undone, true);
  });

  const future = [
    ["made", { kind: "enter", plan: "pressed-semi-hard", made: day(-3), count: 1, where: { new: { kind: "box" } }, starts: [], last: [] }],
    ["day", {
      kind: "enter", plan: "pressed-semi-hard", made: day(5), count: 1, where: { new: { kind: "box" } },
      starts: [{ start: "entered box", day: day(-2), reckoned: true }], last: [],
    }],
  ] as const;
  for (const [field, body] of future)
    test(`a form whose ${field} lies in the future is refused with what to do`, async () => {
      const before = (await watch.get("/api/wheels")).wheels.length;
      const answer = await watch.act(body);
      assert.equal(answer.status, 422, answer.text);
      const { error } = answer.json as any;
      assert.match(error.what, /lies in the future; today is \d{4}-\d\d-\d\d\.$/);
      assert.equal(error.field, field);
      assert.ok(error.do.length > 0);
      assert.equal((await watch.get("/api/wheels")).wheels.length, before);
    });

  test("an act tapped in the future by both clocks is refused", async () => {
    const answer = await watch.send({ ...turn(), tapped_at: Date.now() + hour });
    assert.equal(answer.status, 422);
    assert.match((answer.json as any).error.what, /future/);
  });

  test("a phone whose clock is an hour ahead is understood", async () => {
    const act = { ...turn(), tapped_at: Date.now() + hour };
    const answer = await watch.send(act, { "Sent-At": String(Date.now() + hour) });
    assert.equal(answer.status, 200, answer.text);
    assert.ok(Math.abs((answer.json as any).at - Date.now()) < 60_000);
  });

  const malformed: [string, string][] = [
    ["not JSON", "{"],
    ["not an object", "[]"],
    ["without an id", JSON.stringify({ kind: "care" })],
    ["with an id of another form", JSON.stringify({ ...{ kind: "care" }, id: "7" })],
    ["of an unknown kind", JSON.stringify({ id: newId(), kind: "melt", tapped_at: 1 })],
    ["with a wheel that is not there", JSON.stringify({ id: newId(), kind: "care", tapped_at: 1, wheels: [99], done: ["turn"], skipped: [] })],
    ["nested deeper than anything sensible", "[".repeat(20_000)],
  ];
  for (const [name, body] of malformed)
    test(`an act ${name} is refused in one sentence`, async () => {
      const answer = await watch.send(body);
      assert.equal(answer.status, 422, answer.text);
      assert.match((answer.json as any).error.what, /[.?]$/);
    });

  test("a change from a strange site or under a strange name is refused", async () => {
    const body = turn();
    assert.equal((await watch.send(body, { Origin: "http://strange.example" })).status, 403);
    assert.equal((await watch.send(body, { Host: "strange.example" })).status, 403);
    assert.equal((await watch.send(body, { "Content-Type": "text/plain" })).status, 415);
    assert.equal((await linesOf(body.id)).length, 0);
  });
});
