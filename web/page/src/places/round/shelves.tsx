// Which shelf is meant: every place where wheels lie, one tap each.
import type { Wheels } from "../../api";
import { Ring } from "../../draw/rings";
import { useAnswer } from "../../house/answers";
import { Book } from "../../parts/book";
import { EntryLink, TitleHead } from "../../parts/leaf";
import { joined, kinOf, lotWord, whichDay } from "../../parts/names";
import { Place } from "../../parts/place";
import { many, t } from "../../words";
import { Waiting } from "../waiting";
import { groupsOf, lotsOf, type Group } from "./groups";
import { firstNext, nextWord } from "./next_of";

export const kWheelsPath = "/api/wheels";

/** "14 tommes, lot 214, day 26" */
export function groupWords({ wheels }: Group): string {
  const first = wheels[0]!;
  return joined(many("wheels.count", wheels.length, { family: kinOf(first.family, wheels.length) }), lotWord(first.lot), whichDay(first));
}

export function groupPlace({ key, wheels }: Group): string {
  return key.startsWith("lot~") ? t("round.lot", { lot: wheels[0]!.lot }) : wheels[0]!.place;
}

export const GroupPlace = ({ group }: { group: Group }) => <Place place={groupPlace(group)} ring={<Ring state={group.wheels[0]!.state} />} />;

interface Props { title: string; note: string; to: (key: string) => string; lots?: boolean }

export function ShelvesPlace({ title, note, to, lots }: Props) {
  const answer = useAnswer<Wheels>(kWheelsPath);
  if (!answer.value) return <Waiting place="round" path={kWheelsPath} answer={answer} />;
  const { wheels, head } = answer.value;
  const groups = [...groupsOf(wheels), ...(lots ? lotsOf(wheels) : [])];
  return (
    <Book place="round" title={title}>
      <section class="leaf">
        <TitleHead title={title} note={note} />
        {groups.map((group) => {
          const next = firstNext(group.wheels);
          return (
            <EntryLink key={group.key} class="pick shelfrow" href={to(encodeURIComponent(group.key))} m={<GroupPlace group={group} />}>
              <span class="word">{groupWords(group)}</span>
              {next && <span class="note">{nextWord(next, head.day)}</span>}
            </EntryLink>
          );
        })}
      </section>
    </Book>
  );
}
