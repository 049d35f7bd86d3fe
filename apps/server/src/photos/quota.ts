const PER_GIGABYTE = 1e9;

/**
 * Reads PHOTO_GB_PER_FIRM: how much room the pictures of one firm may take, gigabytes (10^9 bytes); bytes, or undefined = no limit.
 * Throws a RangeError that names the setting when it is no number above 0, so that no server starts with a limit that was not meant.
 */
export function readPhotoQuota(env: Readonly<Record<string, string | undefined>>): number | undefined {
  const said = env['PHOTO_GB_PER_FIRM']?.trim() ?? '';
  if (said === '') return undefined;
  const gigabytes = Number(said);
  if (!Number.isFinite(gigabytes) || gigabytes <= 0)
    throw new RangeError(
      'PHOTO_GB_PER_FIRM is a number of gigabytes above 0, such as 20; leave it out for no limit',
    );
  return Math.round(gigabytes * PER_GIGABYTE);
}
