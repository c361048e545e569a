// Ruled cells: words to tap. Chosen is ink, bold, with a stroke of the hand under the whole cell.
import type { ComponentChildren } from "preact";

export interface Choice<T> { value: T; word: ComponentChildren }

interface CellsProps<T> {
  choices: Choice<T>[];
  chosen?: T | undefined;
  choose: (value: T) => void;
  columns?: 1 | 2 | 3 | 5;
}

export function Cells<T>({ choices, chosen, choose, columns = 2 }: CellsProps<T>) {
  return (
    <span class={`cells c${columns}`}>
      {choices.map(({ value, word }, i) => (
        <button key={i} type="button" class={value === chosen ? "on" : undefined} aria-pressed={value === chosen} onClick={() => choose(value)}>{word}</button>
      ))}
    </span>
  );
}

interface StepperProps {
  less: string;
  more: string;
  onLess: () => void;
  onMore: () => void;
  children: ComponentChildren;
}

/** Two words with a figure between them. */
export function Stepper({ less, more, onLess, onMore, children }: StepperProps) {
  return (
    <span class="cells count3">
      <button type="button" onClick={onLess}>{less}</button>
      <span class="n" aria-live="polite">{children}</span>
      <button type="button" onClick={onMore}>{more}</button>
    </span>
  );
}
