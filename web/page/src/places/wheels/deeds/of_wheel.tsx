// What the deeds on a wheel share: they ask for it and for its lot, and stand under its name.
import type { ComponentChildren, FunctionComponent } from "preact";
import type { Wheel, WheelPage, Wheels } from "../../../api";
import { Ring } from "../../../draw/rings";
import { useAnswer } from "../../../house/answers";
import { Book } from "../../../parts/book";
import { Deed } from "../../../parts/deed";
import { TitleHead } from "../../../parts/leaf";
import { joined, lotWord } from "../../../parts/names";
import { Place } from "../../../parts/place";
import { back } from "../../../route";
import { Waiting } from "../../waiting";
import { saidOf } from "../said";
import { sisters } from "../sisters";

export interface WheelProps {
  page: WheelPage;
  lot: Wheel[];       // this wheel first
  leave: () => void;  // back to the wheel's page
}

/** Draws a deed once the wheel is there. */
export function OfWheel({ id, draw: Draw }: { id: string; draw: FunctionComponent<WheelProps> }) {
  const path = `/api/wheels/${id}`;
  const answer = useAnswer<WheelPage>(path);
  const all = useAnswer<Wheels>("/api/wheels");
  if (!answer.value || (!all.value && all.error === undefined)) return <Waiting place="wheels" path={path} answer={answer} />;
  const page = answer.value;
  return <Draw page={page} lot={sisters(page.wheel, all.value?.wheels ?? [])} leave={() => back(`/wheels/${id}`)} />;
}

export const Margin = ({ wheel }: { wheel: Wheel }) => <Place place={wheel.place} ring={<Ring state={wheel.state} {...saidOf(wheel)} />} />;

interface DeedBookProps {
  page: WheelPage;
  title: string;
  note?: ComponentChildren;
  verb: string;
  low: string;
  off?: boolean;
  tap: () => void;
  children: ComponentChildren;
}

/** One deed: its question on top, what can be said, the verb on the foot. */
export function DeedBook({ page, title, note, verb, low, off, tap, children }: DeedBookProps) {
  const { wheel } = page;
  return (
    <Book place="wheels" title={title} class="withdeed" foot={<Deed verb={verb} low={low} tap={tap} off={off === true} />}>
      <section class="leaf">
        <TitleHead m={<Margin wheel={wheel} />} title={title} note={<>{joined(wheel.name, lotWord(wheel.lot))}{note && <>. {note}</>}</>} />
        {children}
      </section>
    </Book>
  );
}
