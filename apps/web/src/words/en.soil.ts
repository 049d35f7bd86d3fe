import { formatIn } from './format.ts';

const { trim } = formatIn('en-US');

/** Words of the page on soil and season, in English. */
export const soil = {
  soil: {
    lead: 'Off until a branch enters its own numbers. They say when the soil is warm enough for termites to forage.',
    caution:
      'A liking of the planner among days that are allowed anyway: it skips no due visit, moves none out of its window, and is no reason to look less closely. Termites may be found on any day.',
    off: 'Off here: the planner takes every day of a window as equally good.',
    course: (depth: string) => `The year at ${depth}`,
    threshold: (degrees: string) => `Counted from ${degrees} on, the branch’s own judgement.`,
    plot: 'Soil temperature through the year',
    from: (source: string) => `Source: ${source}. Thin line: the surface. Even soil, no snow, no rain.`,
    degrees: (celsius: number) => `${trim(celsius * 1.8 + 32)} °F (${trim(celsius)} °C)`,
    degreesShort: (celsius: number) => `${trim(celsius * 1.8 + 32)}°`,
    depth: (metres: number) => `${trim(metres / 0.0254)} in (${trim(100 * metres)} cm) down`,
    heads: ['Month', 'At its middle', 'Warm enough'],
    yes: 'yes',
    no: 'no',
    enter: 'Enter numbers',
    change: 'Change the numbers',
    mean: 'Mean of the year at the surface, °F',
    meanHint: 'About the mean air temperature of the year',
    swing: 'Half of warmest less coldest month, °F',
    swingHint: 'Monthly means, from your weather station',
    coldest: 'Coldest day',
    coldestHint: 'MM-DD, such as 01-20',
    coldestWrong: 'Write it as MM-DD, such as 01-20.',
    depthLabel: 'Depth, inches',
    diffusivity: 'Thermal diffusivity of the soil, mm²/s',
    diffusivityHint: 'From a soil survey or a table of soils; wet and dry soils differ much',
    forage: 'Termites forage from, °F',
    forageHint: 'Your own judgement: the tool brings no number',
    source: 'Where the numbers are from',
    sourceHint: 'Weather station, survey, table',
    turnOff: 'Turn it off',
  },
};
