/** What the customer is told, in plain English, in the order in which it came up. */
export const TELL_WORDS = {
  'no termites': 'We found no termites in this station.',
  'signs only':
    'We found old signs of termites in this station (mud or galleries), but no live termites today.',
  'termites found':
    'We found live termites in this station. That is what the station is there for: it caught them.',
  feeding: 'Termites are feeding on the bait in this station. That is how the bait works.',
  'feeding ended': 'Termites were feeding here at the last look; there are none in this station today.',
  'station clear':
    'This station has now been free of termites for as many checks in a row as the label asks for.',
  'could not open':
    'We could not open this station today, so it does not count as checked. We will come back for it.',
  'replacement asked':
    'We have missed this station too many times in a row, and have asked our office to replace it.',
  'service carried over':
    'The yearly service of this station waits, because termites are in it and must not be disturbed. It stays owed to you.',
  'service owed':
    'The yearly service of this station was put off while termites were in it. It is still owed, and we will come back to do it.',
  'service done': 'We did the yearly service of this station.',
  'bait put in': 'We put bait into this station.',
  'bait added': 'We added bait, because little was left.',
  'bait renewed': 'We put fresh bait into this station.',
  'bait withdrawn': 'We took the bait out; the station goes back to watching.',
  'bait not possible':
    'Bait could not be put in today without disturbing the termites. Our office will arrange what comes next.',
  'monitor renewed': 'We put in new monitors.',
  'station repaired': 'We repaired this station.',
  'station replaced': 'We set a new station in place of this one.',
  'repair later': 'This station needs a repair, which waits until the termites have gone.',
  'auxiliary stations': 'We have asked our office to set more stations beside this one.',
} as const;
export type TellKey = keyof typeof TELL_WORDS;
