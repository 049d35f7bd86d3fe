import { Problem } from './problems.ts';

/** Reads the whole body, or throws `too large` as soon as more than `limitBytes` have come in. */
export async function readBody(request: Request, limitBytes: number): Promise<Uint8Array> {
  const declared = Number(request.headers.get('content-length') ?? 0);
  if (declared > limitBytes) throw tooLarge(limitBytes);
  if (request.body === null) return new Uint8Array();
  const parts: Uint8Array[] = [];
  let size = 0;
  for await (const part of request.body) {
    size += part.byteLength;
    if (size > limitBytes) throw tooLarge(limitBytes);
    parts.push(part);
  }
  const whole = new Uint8Array(size);
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.byteLength;
  }
  return whole;
}

function tooLarge(limitBytes: number): Problem {
  return new Problem('too large', `This address takes at most ${limitBytes} bytes.`);
}
