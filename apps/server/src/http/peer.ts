import type { Context } from 'hono';
import type { Env } from './context.ts';

/**
 * The address that the request came from: the socket's, or, behind one trusted proxy, the last entry of
 * X-Forwarded-For (the one that the proxy itself wrote).
 */
export function peerOf(context: Context<Env>): string {
  return context.get('peer');
}

export function readPeer(context: Context<Env>, behindProxy: boolean): string {
  const socket = context.env?.incoming?.socket.remoteAddress ?? '127.0.0.1';
  if (!behindProxy) return socket;
  const forwarded = context.req.header('x-forwarded-for')?.split(',').at(-1)?.trim();
  return forwarded === undefined || forwarded === '' ? socket : forwarded;
}
