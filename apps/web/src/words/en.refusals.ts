/** What was refused, by the server's name for it (its catalogue of problems), and what one does about it on a screen. */
export const refusals = {
  /** Whether the server's own sentences are in this language; where they are not, `said` says whose they are. */
  isServers: true as boolean,
  said: (sentence: string) => sentence,
  problems: {
    'not signed in': ['You are not signed in', 'Sign in, then try again.'],
    'sign-in refused': [
      'E-mail or password is not right',
      'Check both; ask the owner or a lead for a new one-time password.',
    ],
    'code refused': [
      'The code is not right or no longer valid',
      'Type the code that the authenticator app shows now, or use a backup code.',
    ],
    'password must be changed': [
      'The one-time password must be replaced first',
      'Choose a password of your own, then go on.',
    ],
    'not allowed': [
      'Your role may not do this',
      'Ask a person with a role that may, or ask the owner to change yours.',
    ],
    'other origin': [
      'The request came from another address than the server’s own',
      'Open this page at the address of the server itself. Whoever runs it can set its public address.',
    ],
    'not found': ['There is no such thing here', 'It may have been removed: load the page anew.'],
    'already set up': ['This server has an owner already', 'Sign in, or ask the owner to add you.'],
    'set-up token wrong': [
      'The set-up token is missing or wrong',
      'Copy the token that the server wrote to its log when it started; it changes with every start.',
    ],
    'e-mail in use': [
      'This e-mail address belongs to an account already',
      'Use another address, or bring the existing person back.',
    ],
    'last owner': ['A firm needs at least one owner', 'Make somebody else an owner first.'],
    'password too weak': [
      'The password is too short, too long or too common',
      'Choose at least 12 and at most 128 characters; three or four unrelated words do well.',
    ],
    malformed: ['What was sent cannot be read', 'Correct the places named here, then try again.'],
    'wrong media type': ['This kind of file is not taken here', 'Choose a file of the kind asked for.'],
    'too large': ['That is too large', 'Send it in smaller parts.'],
    'too many requests': ['Too much was asked for at once', 'Wait a little, then try again.'],
    'import refused': [
      'The file was not imported; nothing was changed',
      'Correct the places named here in the file, then look at it again.',
    ],
    'import leaned on': [
      'Later entries lean on what the import brought',
      'Look at what is named here. Withdraw those entries first, or take the import back even so and leave them without their place.',
    ],
    'import holds applications': [
      'Pesticide was applied at what the import brought',
      'Its record must keep the place that it names: correct single entries instead.',
    ],
    'no room for photos': [
      'The firm has no room left for pictures',
      'Phones keep their pictures. Whoever runs the server can give the firm more room; they then go out by themselves.',
    ],
    'photo refused': ['The picture was not taken', 'Take it again, as a JPEG, PNG or WebP picture.'],
    'no label profile': [
      'The property has no label profile',
      'Enter the numbers of the label in use as the firm’s profile first.',
    ],
    'too many links': [
      'There are too many secret addresses here',
      'Withdraw those that nobody needs any more.',
    ],
    'mail not set up': [
      'This server sends no e-mail yet',
      'Whoever runs the server can set that up; a preview works without.',
    ],
    'no address': [
      'There is no e-mail address to send to',
      'Type one, or record the e-mail address of the customer.',
    ],
    'message has gone': [
      'The message is past that',
      'Load the list anew; only a message that waits can be cancelled, and one that was sent is not sent twice.',
    ],
    'paper cannot be written': ['What the paper needs is not recorded', 'Record what is named here first.'],
    'papers busy': ['Too many papers are being drawn', 'Wait a little, then ask for it again.'],
    'plan running': [
      'The branch is being planned already',
      'Wait for the plan that is being made, or stop it first.',
    ],
    'plan not ready': ['The plan has no rounds yet', 'Wait until it is done; plan anew if it failed.'],
    'plan changed': [
      'Somebody else changed the plan meanwhile',
      'Look at it again, then repeat what you did.',
    ],
    'plan outdated': [
      'Other rounds were sent out since this plan was begun',
      'Plan anew: the new plan starts from what was sent out and moves as little as it can.',
    ],
    'move refused': [
      'The visit cannot be put there',
      'Choose a technician who drives on that day, and a day within the plan.',
    ],
    'too much for one answer': [
      'That is more than one answer can hold',
      'Ask for one property or a shorter period.',
    ],
    'not ready': ['The server cannot take work at the moment', 'Try again in a few seconds.'],
    internal: [
      'The server failed',
      'Try again; if it happens again, tell whoever runs the server when it was.',
    ],
  } as Readonly<Record<string, readonly [title: string, remedy: string]>>,
  /** Why a record was not taken, by the ledger's name for it. */
  records: {
    malformed: 'The record cannot be read as it is.',
    'other firm': 'The record belongs to another firm than the one signed in.',
    'id reused with other content': 'Another record stands there under the same id.',
    'legal field missing': 'The pesticide use record lacks what the law asks for.',
    'not allowed': 'Your role, or your branch, may not record this here.',
  } as Readonly<Record<string, string>>,
};
