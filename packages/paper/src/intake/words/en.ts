/** Why a cell cannot be taken as it is, and what to do about it. `{name}` stands for what the place tells. */
export const CELL_PROBLEMS = {
  'empty cell': ['{label} is empty', 'Fill it in, or give a default in the mapping.'],
  'no date': ['is not a date that exists', 'Write it as YYYY-MM-DD; dates here are read as {order}.'],
  'no number': ['is not a number from {least} to {most}', 'Correct the number.'],
  'no word': ['is not a word for this', 'Use one of: {words}; or say in the mapping what it means.'],
  'not yes or no': ['is neither yes nor no', 'Use yes or no.'],
  'column missing': ['the mapping names a column that the sheet does not have', 'The sheet has: {columns}.'],
  'columns alike': ['{count} columns have this name', 'Give each its own, or leave them out in the mapping.'],
  'columns both': ['it and "{other}" are both taken for the {label}', 'Name one of the two in the mapping.'],
  'no property said': [
    'nothing says which property this is',
    'Give its number, or its name, street and postcode.',
  ],
  'no such property': [
    'no such property in these files or in the ledger',
    'Import its property first, or in the same go.',
  ],
  'properties alike': [
    '{count} properties have this name',
    'Give the property’s number, or its street and postcode.',
  ],
  'another number': [
    'a property of this name and place is known under another number',
    'Use that number; or tell two properties apart by name, such as a unit’s.',
  ],
  'another number said': [
    'a property of this name and place is known under another number ({number})',
    'Use that number; or tell two properties apart by name, such as a unit’s.',
  ],
  'property withdrawn': [
    'the property was imported before and then withdrawn',
    'Bring back its entry first.',
  ],
  'said otherwise': [
    '{place} says "{text}" for the same property',
    'Make the rows say the same {label}, or leave the column out of one sheet.',
  ],
  'no name': ['the property has no name', 'Give a name; the customer’s will do.'],
  'no branch yet': ['the firm has no branch yet', 'Enter the firm’s branch first.'],
  'no profile yet': ['the firm has no label profile yet', 'Enter the firm’s label profile first.'],
  'name of several': ['is the name of more than one', 'Use the id: {ids}.'],
  'branch not said': ['does not say which branch', 'Use one of: {names}; or give a default in the mapping.'],
  'profile not said': [
    'does not say which label profile',
    'Use one of: {names}; or give a default in the mapping.',
  ],
  'not the firm’s': ['is none of the firm’s', 'Use one of: {names}; or give a default in the mapping.'],
  'no time zone': ['is not a time zone', 'Name an IANA zone, such as America/New_York.'],
  'agreement without start': [
    'the agreement has a day of renewal and no start',
    'Give both days, or leave the column of renewals out.',
  ],
  'renewal before start': ['lies before the agreement starts ({day})', 'Correct one of the two days.'],
  'half a place on earth': ['one of latitude and longitude is empty', 'Give both, or neither.'],
  'no such station': [
    'the property has no station {number}',
    'Import its stations first, or in the same go.',
  ],
  'no ring number': ['has no number on the ring', 'Give a whole number from 1.'],
  'long name': ['is longer than {most} characters', 'Give a short name.'],
  'no day set': ['does not say when the station was set', 'Give the day: due windows count from it.'],
  'set in the future': ['lies in the future', 'Correct the day; stations are recorded once they stand.'],
  'station withdrawn': [
    'the station was imported before and then withdrawn or replaced',
    'Correct its entry at the property first.',
  ],
  'station said otherwise': [
    '{place} says something else of the same station',
    'Keep one of the two rows, or correct the number.',
  ],
  'set another day': [
    '{place} says it was set on {day}',
    'Correct the row; or correct the entry at the station.',
  ],
  'another model': [
    '{place} says it is a {model}',
    'Correct the row; or record that the station was replaced.',
  ],
  'another foundation': ['{place} says {foundation} for the same structure', 'Make the rows say the same.'],
  'no model said': [
    'does not say which kind of station',
    'Use one of: {models}; or give a default in the mapping.',
  ],
  'no such model': [
    'is none of the firm’s station models',
    'Use one of: {models}; or say in the mapping what it means.',
  ],
  'half a place on the plan': ['one of the two coordinates is empty', 'Give both, or neither.'],
  'look said otherwise': [
    'another look at this station on {day} is recorded and says something else',
    'Correct the row, or correct the entry at the station.',
  ],
  'seen before set': ['lies before the station was set ({day})', 'Correct one of the two days.'],
  'seen in the future': ['lies in the future', 'Correct the day; only what was seen is recorded.'],
  'service among live termites': [
    'says that the yearly service was done where live termites were found',
    'Say no, and the service is carried over; or correct what was found.',
  ],
  'service unopened': [
    'says that the yearly service was done in a station that was not opened',
    'Say no, and the service is carried over; or correct what was found.',
  ],
  'bait where none goes': ['says bait was put in, and a {model} takes none', 'Correct one of the two.'],
  'bait unopened': ['says bait was put into a station that was not opened', 'Correct one of the two.'],
  'another licence': [
    'another row of this visit gives {technician} the licence "{licence}"',
    'Make the rows say the same.',
  ],
  'licence imported': [
    'an earlier import closed this visit under the licence "{licence}"',
    'Correct the row, or correct the entry of the visit.',
  ],
  'nothing found said': [
    'does not say what was found',
    'Say one of: {words}; or, if an empty cell means none, give that as a default in the mapping.',
  ],
  'found unopened': ['says what was found in a station that was {reach}', 'Correct one of the two cells.'],
  'bait from nowhere': [
    'tells of bait in a station, and no row says that bait was put in there',
    'Say yes in a column for bait put in, at the row of that day; or add a row with the day it was put in.',
  ],
} as const;

/** Why a file cannot be read at all. */
export const FILE_PROBLEMS = {
  empty: ['it is empty', 'Choose another file.'],
  'too large': ['it is larger than {most} MB', 'Split it into several files.'],
  'no header': ['it has no row with column names', 'Put the column names in the first row.'],
  'too wide': ['row {row} has more than {most} columns', 'Leave out what is no record.'],
  'too many cells': ['it has more than {most} cells', 'Split it into several files.'],
  'too many rows': ['it has more than {most} rows', 'Split it into several files.'],
  'too many texts': ['it has more than {most} texts', 'Split it into several files.'],
  'long cell': ['a cell in row {row} is longer than {most} characters', 'Shorten it.'],
  'long text': ['the cell that begins "{start}" is longer than {most} characters', 'Shorten it.'],
  'quote open': [
    'line {line} cannot be read: a quoted cell never ends',
    'Mend the quotes on that line, or save the sheet as XLSX.',
  ],
  'line broken': [
    'line {line} cannot be read ({code})',
    'Mend the quotes on that line, or save the sheet as XLSX.',
  ],
  'no text': ['it is no text and no XLSX workbook', 'Save it as CSV (UTF-8) or XLSX.'],
  'no spreadsheet': ['it is no spreadsheet', 'Save it as XLSX or CSV.'],
  swollen: ['it unpacks to more than {most} MB', 'Split it into several files.'],
  damaged: [
    'the workbook is damaged or cut off',
    'Open it in a spreadsheet program and save it again as XLSX.',
  ],
  'part missing': [
    'the workbook lacks its part {part}',
    'Open it in a spreadsheet program and save it again as XLSX.',
  ],
  'document type': ['the workbook declares a document type', 'Save it again as XLSX.'],
  'broken XML': [
    'the workbook has XML that cannot be read',
    'Open it in a spreadsheet program and save it again as XLSX.',
  ],
} as const;

export const NOTES = {
  'no column': '(no column for {label})',
  row: '{file}, row {row}',
  'sheet row': '{file}, sheet {sheet}, row {row}',
  cell: '{row}, column {column}',
  ledger: 'the ledger',
  or: '{a} or {b}',
  'not UTF-8': 'The file is not UTF-8; it was read as Windows-1252. Check names with accents.',
  'date orders mixed':
    'Some dates put the day first and some the month: those that do not fit are named below.',
  'date order open':
    'No date tells whether the day or the month comes first; month first was taken. Override it with dateOrder in the mapping.',
} as const;
