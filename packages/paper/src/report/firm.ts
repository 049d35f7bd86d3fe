import type { LabelProfile } from '@sillwatch/trade';
import type { Document } from '../document/model.ts';
import type { Say } from './words/say.ts';

/** Who writes the paper. */
export interface FirmCard {
  readonly name: string;
  /** address, telephone, mail, licence of the firm: one a line */
  readonly lines: readonly string[];
}

/** What every paper of ours has round its blocks; `invented` when a profile in it is invented. */
export function paperFrame(
  say: Say,
  firm: FirmCard,
  writtenAt: string,
  invented: boolean,
): Omit<Document, 'title' | 'subtitle' | 'layout' | 'blocks'> {
  return {
    lang: say.lang,
    writtenAt,
    letterhead: firm,
    banner: invented ? { title: say('invented.title'), text: say('invented.text') } : null,
    foot: say('foot'),
    pageWords: say('page', { n: '{n}', m: '{m}' }),
    continuedWords: say('continued'),
  };
}

export function isInvented(profile: LabelProfile | null): boolean {
  return profile?.invented ?? false;
}
