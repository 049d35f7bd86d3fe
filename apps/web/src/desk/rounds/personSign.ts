import type { BranchPlan } from '@sillwatch/rounds';

/** How a technician is told from the others on the map: by shape and dashes; colour only repeats it. */
export interface PersonSign {
  readonly shape: (typeof SHAPES)[number];
  readonly dash: string;
  /** 0 to 5, one for each `who-N` of the style sheet */
  readonly colour: number;
}

const SHAPES = ['circle', 'square', 'diamond', 'hexagon', 'triangle', 'octagon'] as const;
const DASHES = ['', '10 5', '3 4', '14 4 3 4', '8 3 3 3 3 3', '2 6'];

/** The same for a technician as long as the people of the plan are the same; two in 36 are never alike. */
export function signOf({ people }: Pick<BranchPlan, 'people'>, person: string): PersonSign {
  const index = Math.max(
    0,
    people.findIndex((one) => one.person === person),
  );
  const turn = Math.floor(index / SHAPES.length);
  return {
    shape: SHAPES[index % SHAPES.length] ?? 'circle',
    dash: DASHES[(index + turn) % DASHES.length] ?? '',
    colour: index % 6,
  };
}
