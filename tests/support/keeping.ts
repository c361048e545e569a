// What a keeper does first, as acts: a wheel in a box, a probe that hangs there.
import type { Broker } from "./broker.ts";
import { until } from "./until.ts";
import type { Watch } from "./watch.ts";

/** A day as the API writes it: today, or so many days before, by the clock of Vienna where the tests' caves are. */
export function day(before = 0): string {
  // The keeper's day turns at 04:00.
  const today = new Intl.DateTimeFormat("en-CA", { timeZone: "Europe/Vienna" }).format(new Date(Date.now() - 4 * 3_600_000));
  // By the calendar: days on which clocks change are longer or shorter.
  return new Date(Date.parse(`${today}T12:00Z`) - before * 86_400_000).toISOString().slice(0, 10);
}

/** A pressed wheel, made five days ago, in a new box since two days. Invented. */
export async function enterWheel(watch: Watch, more: Record<string, unknown> = {}): Promise<{ cave: number; wheels: number[] }> {
  return watch.did({
    kind: "enter",
    plan: "pressed-semi-hard",
    made: day(5),
    count: 1,
    where: { new: { kind: "box", name: "Box 1" } },
    starts: [{ start: "entered box", day: day(2), reckoned: true }],
    last: [],
    ...more,
  });
}

/** A probe with temperature and humidity in a JSON text, hung in a cave. */
export async function hangProbe(
  watch: Watch,
  cave: number,
  topic: string,
  more: Record<string, unknown> = {},
): Promise<{ probe: number }> {
  return watch.did({
    kind: "probe",
    name: "By the door",
    topic,
    format: "json",
    channels: [
      { kind: "temperature", pointer: "/temperature" },
      { kind: "humidity", pointer: "/humidity" },
    ],
    where: { cave },
    ...more,
  });
}

/** Publishes until the cave shows it: a route is in force a moment after its act was answered. `value` must be new. */
export async function showsReading(
  watch: Watch,
  broker: Broker,
  topic: string,
  value: number,
  payload = `{"temperature":${value},"humidity":84}`,
): Promise<void> {
  await watch.connected();
  await until(`the reading ${value} of ${topic} is shown`, async () => {
    await broker.publish(topic, payload);
    const { caves } = await watch.get("/api/caves");
    for (const { id } of caves) {
      const { probes } = await watch.get(`/api/caves/${id}`);
      if (probes.some((probe: any) => probe.topic === topic && probe.channels[0].latest === value)) return true;
    }
    return false;
  });
}
