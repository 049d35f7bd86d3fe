import type { LabelProfile, Sourced } from '../profile/labelProfile.ts';

/** The profile with one of its values changed by words ("idle bait withdrawn"), or, as text, what to write instead. */
export function changeProfile(profile: LabelProfile, words: string): LabelProfile | string {
  for (const [name, change] of Object.entries(CHANGES)) {
    if (!words.startsWith(`${name} `)) continue;
    const value = words.slice(name.length + 1);
    return change(profile, value) ?? `"${value}" does not fit ${name}`;
  }
  return `write one of these with its value: ${Object.keys(CHANGES).join(', ')}`;
}

type Change = (profile: LabelProfile, value: string) => LabelProfile | undefined;

const CHANGES: Readonly<Record<string, Change>> = {
  'idle bait': (profile, value) => {
    const found = (['stays', 'renewed', 'withdrawn'] as const).find((one) => one === value);
    return found === undefined ? undefined : { ...profile, idleBait: set(profile.idleBait, found) };
  },
  'clear bait': (profile, value) => {
    const found = (['stays', 'withdrawn'] as const).find((one) => one === value);
    return found === undefined ? undefined : { ...profile, clearBait: set(profile.clearBait, found) };
  },
  'monitor with signs': (profile, value) => {
    const found = (['kept', 'renewed'] as const).find((one) => one === value);
    return found === undefined
      ? undefined
      : { ...profile, monitorWithSigns: set(profile.monitorWithSigns, found) };
  },
  'auxiliary stations': withNumber((profile, value) => ({
    ...profile,
    auxiliaryStations: set(profile.auxiliaryStations, value),
  })),
  'misses before replacement': withNumber((profile, value) => ({
    ...profile,
    missesBeforeReplacement: set(profile.missesBeforeReplacement, value),
  })),
  'clear after checks': withNumber((profile, value) => ({
    ...profile,
    clearAfterChecks: set(profile.clearAfterChecks, value),
  })),
  'add bait at or under': withNumber((profile, value) => ({
    ...profile,
    addBaitAtOrUnder: set(profile.addBaitAtOrUnder, value),
  })),
};

function withNumber(change: (profile: LabelProfile, value: number) => LabelProfile): Change {
  return (profile, words) => {
    const value = Number(words);
    return words !== '' && Number.isFinite(value) && value >= 0 ? change(profile, value) : undefined;
  };
}

function set<T>(sourced: Sourced<T>, value: T): Sourced<T> {
  return { ...sourced, value };
}
