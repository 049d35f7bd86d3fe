/**
 * Looks in discrete time: one row a look at a unit (a station) that was at risk, with what was known before the look and whether
 * the event (a hit) was found. Units stand in groups, groups in groups of their own (station, structure, branch).
 */
export interface HazardRows {
  readonly columns: number;
  /** row-major, stride `columns`; put a column of ones for the intercept */
  readonly x: Float64Array | Float32Array;
  /** 0 or 1 */
  readonly hit: Uint8Array;
  /** rows of unit u: from rowStart[u] up to, not including, rowStart[u + 1] */
  readonly rowStart: Int32Array;
  /** parents[l][node] = its group at level l + 1; level 0 are the units. Empty = no groups. */
  readonly parents: readonly Int32Array[];
  /** nodes at each level, units first */
  readonly nodes: readonly number[];
}

export interface HazardOptions {
  /** `none` = plain logistic regression; else each node at each level has an effect drawn from a normal of its level. */
  readonly effects: 'none' | 'nested';
  /** precision of a normal prior round 0, a column; 0 = none */
  readonly ridge: readonly number[];
  /** first guess of each level's standard deviation */
  readonly startSpread?: readonly number[];
  /** true = `startSpread` is known and stays */
  readonly fixedSpread?: boolean;
  /** default 60 */
  readonly mostSteps?: number;
  /** an earlier fit of the same rows to start from */
  readonly start?: HazardFit;
}

/** Where the log of the penalised likelihood is highest, with the curvature there (Laplace's approximation) and the way to the mean. */
export interface HazardFit {
  readonly columns: number;
  readonly coefficients: Float64Array;
  /** from there to the mean of each coefficient (see `shiftToMean`) */
  readonly shift: Float64Array;
  /** covariance of the coefficients, effects integrated out, row-major */
  readonly covariance: Float64Array;
  readonly levels: readonly HazardLevel[];
  readonly parents: readonly Int32Array[];
  readonly rows: number;
  readonly hits: number;
  readonly logLikelihood: number;
  readonly steps: number;
  readonly converged: boolean;
}

export interface HazardLevel {
  /** standard deviation of the effects at this level */
  readonly spread: number;
  readonly effect: Float64Array;
  /** from there to the mean of each effect */
  readonly shift: Float64Array;
  /** curvature of the node's own effect, what stands below it eliminated: data and prior */
  readonly curvature: Float64Array;
  /** the data's part of it */
  readonly weight: Float64Array;
  /** coupling with the coefficients, stride `columns` */
  readonly coupling: Float64Array;
}

/** Throws a RangeError that names what does not fit. */
export function checkHazardRows(data: HazardRows): void {
  const { columns, x, hit, rowStart, parents, nodes } = data;
  const units = nodes[0] ?? 0;
  const rows = hit.length;
  if (x.length !== rows * columns)
    throw new RangeError(`x has ${x.length} numbers, not ${rows} rows of ${columns}`);
  if (rowStart.length !== units + 1 || rowStart[0] !== 0 || rowStart[units] !== rows)
    throw new RangeError(`rowStart must run from 0 to the ${rows} rows over ${units} units`);
  for (let unit = 0; unit < units; unit += 1)
    if ((rowStart[unit + 1] ?? 0) < (rowStart[unit] ?? 0))
      throw new RangeError(`rowStart falls at unit ${unit}`);
  if (parents.length !== nodes.length - 1)
    throw new RangeError(
      `${nodes.length} levels take ${nodes.length - 1} lists of parents, not ${parents.length}`,
    );
  parents.forEach((list, level) => {
    if (list.length !== nodes[level])
      throw new RangeError(`level ${level} has ${nodes[level]} nodes, not ${list.length}`);
    for (const parent of list)
      if (parent < 0 || parent >= (nodes[level + 1] ?? 0))
        throw new RangeError(`level ${level} names group ${parent}, which level ${level + 1} does not have`);
  });
  for (const value of x)
    if (!Number.isFinite(value)) throw new RangeError('x holds a value that is no number');
  for (const value of hit) if (value > 1) throw new RangeError(`a hit is 0 or 1, not ${value}`);
}
