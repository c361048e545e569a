// A cave that rings when a test wants it to: carbon dioxide far above what people bear is urgent within a minute.
import type { Broker } from "./broker.ts";
import { until } from "./until.ts";
import type { Watch } from "./watch.ts";
import type { Time } from "./time.ts";

export async function hangGas(watch: Watch, topic = "gas/1", where: Record<string, unknown> = { new: { kind: "room", name: "Cellar" } }): Promise<number> {
  const { cave } = await watch.did<{ cave: number }>({
    kind: "probe", name: topic, topic, format: "json",
    channels: [{ kind: "carbon dioxide", pointer: "/co2" }], where,
  });
  return cave;
}

export interface AlarmTold { id: string; kind: string; severity: string; taken?: number; over?: number }

export async function alarms(watch: Watch): Promise<AlarmTold[]> {
  return (await watch.get("/api/caves")).head.alarms;
}

/** Makes the watch look at its clock now: any act does. */
export async function nudge(watch: Watch): Promise<void> {
  await watch.did({ kind: "undo", of: [..."0123456789abcdef0123456789abcdef"].sort(() => Math.random() - 0.5).join("") });
}

/** Whether it believes its own clock; it looks every few seconds. */
export const clockKnown = async (watch: Watch): Promise<unknown> => ((await watch.ask({ path: "/health" })).json as { clock_known?: boolean }).clock_known;

/** Publishes until as many alarms stand as are wanted; the clock goes on by a minute each time. */
export async function ring(watch: Watch, broker: Broker, time: Time, topics = ["gas/1"], ppm = 20_000): Promise<AlarmTold[]> {
  await watch.connected();
  return until(`${topics.length} alarms ring`, async () => {
    time.go(61);
    for (const topic of topics) await broker.publish(topic, `{"co2":${ppm}}`);
    await nudge(watch);
    const told = (await alarms(watch)).filter((alarm) => alarm.kind === "carbon dioxide" && alarm.over === undefined);
    return told.length >= topics.length && told;
  }, 60_000);
}
