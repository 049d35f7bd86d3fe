/** The target of a restore holds facts already. */
export class LedgerNotEmptyError extends Error {
  constructor() {
    super('the ledger already holds facts; restore into a new, empty one');
    this.name = 'LedgerNotEmptyError';
  }
}

/** The database cannot be used as it is; the message says what to do. */
export class LedgerUnusableError extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'LedgerUnusableError';
  }
}

/** A backup file that cannot be restored, or a ledger that cannot be backed up; the message names the place. */
export class BackupError extends Error {
  constructor(message: string) {
    super(message);
    this.name = 'BackupError';
  }
}
