import { describe, expect, it } from 'vitest';
import { mayRecordKind, ROLES } from '../src/accounts/roles.ts';

const who = (kind: string): string => ROLES.filter((role) => mayRecordKind(role, kind)).join(' ');

describe('who records which kind of fact', () => {
  it.each([
    'technician set',
    'technician away',
    'branch closed',
    'round published',
    'part set',
    'link made',
    'link withdrawn',
    'paper sent',
    'parts ordered',
    'soil season set',
    'order cancelled',
    'visit promised',
    'profile set',
    'property added',
  ])('%s: the office', (kind) => {
    expect(who(kind)).toBe('lead owner');
  });

  it.each([
    'site drawn',
    'structure removed',
    'visit asked',
    'ask withdrawn',
    'stock counted',
    'stock received',
    'stock moved',
    'station seen',
    'visit closed',
    'a kind of a newer phone',
  ])('%s: everybody who records, never the inspector', (kind) => {
    expect(who(kind)).toBe('technician lead owner');
  });
});
