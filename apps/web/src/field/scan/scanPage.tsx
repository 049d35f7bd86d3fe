import { type ChangeEvent, type FormEvent, useEffect, useRef, useState } from 'react';
import { useLocation } from 'wouter';
import { Field } from '../../shared/field.tsx';
import { Notice } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';
import { Screen } from '../parts/frame.tsx';
import { NotHere } from '../parts/notHere.tsx';
import { useFieldProperty } from '../yard.tsx';
import { createReader } from './reader.ts';
import { tagOf } from './tag.ts';

/** Between two looks at the camera's picture, milliseconds: the reader is done sooner, and the battery lasts. */
const EVERY_MS = 250;

/** Finds a station by the code of its tag: by camera, by a photo, or typed. */
export function ScanPage({ property: id }: { readonly property: string }) {
  const w = useWords();
  const [, go] = useLocation();
  const property = useFieldProperty(id);
  const video = useRef<HTMLVideoElement>(null);
  const [said, setSaid] = useState('');
  const [camera, setCamera] = useState<'asking' | 'on' | 'refused' | 'none'>('asking');
  const [typed, setTyped] = useState('');
  const stations = property?.state.stations;
  const find = (code: string): boolean => {
    const tag = tagOf(code).toUpperCase();
    const found = stations?.find((one) => one.inService && one.tag?.toUpperCase() === tag);
    if (found === undefined) {
      setSaid(w.field.scan.unknown(tag));
      return false;
    }
    go(`/p/${id}/s/${found.station}`);
    return true;
  };
  const findNow = useRef(find);
  findNow.current = find;
  useEffect(() => {
    let stream: MediaStream | undefined;
    let isOver = false;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const run = async () => {
      try {
        stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } });
      } catch (error) {
        setCamera(error instanceof DOMException && error.name === 'NotAllowedError' ? 'refused' : 'none');
        return;
      }
      const element = video.current;
      if (isOver || element === null) {
        stopAll(stream);
        return;
      }
      element.srcObject = stream;
      setCamera('on');
      const read = await createReader();
      const look = async () => {
        const code = await read(element);
        if (isOver) return;
        if (code === undefined || !findNow.current(code)) timer = setTimeout(() => void look(), EVERY_MS);
      };
      void look();
    };
    if ('mediaDevices' in navigator) void run();
    else setCamera('none');
    return () => {
      isOver = true;
      clearTimeout(timer);
      if (stream !== undefined) stopAll(stream);
    };
  }, []);
  const fromPhoto = async (event: ChangeEvent<HTMLInputElement>) => {
    const file = event.target.files?.[0];
    event.target.value = '';
    if (file === undefined) return;
    const picture = await createImageBitmap(file).catch(() => undefined);
    const code = picture === undefined ? undefined : await (await createReader())(picture);
    if (code === undefined) setSaid(w.field.scan.unreadable);
    else find(code);
  };
  if (property === undefined) return <NotHere back="/" />;
  return (
    <Screen title={w.field.scan.title} back={`/p/${id}`}>
      {camera === 'refused' || camera === 'none' ? (
        <Notice title={camera === 'refused' ? w.field.scan.noPermission : w.field.scan.noCamera} />
      ) : (
        <>
          <p className="lead">{w.field.scan.lead}</p>
          <video ref={video} className="scan-video" autoPlay playsInline muted />
        </>
      )}
      <p role="status" className="field-error">
        {said}
      </p>
      <label className="button photo-take">
        <input
          type="file"
          accept="image/*"
          capture="environment"
          onChange={(event) => void fromPhoto(event)}
        />
        {w.field.scan.fromPhoto}
      </label>
      <form
        className="sheet"
        onSubmit={(event: FormEvent) => {
          event.preventDefault();
          if (typed.trim() !== '') find(typed);
        }}
      >
        <Field
          label={w.field.scan.typed}
          value={typed}
          autoCapitalize="characters"
          autoComplete="off"
          onChange={(event) => setTyped(event.target.value)}
        />
        <button type="submit" className="button button-main thumb">
          {w.field.scan.go}
        </button>
      </form>
    </Screen>
  );
}

function stopAll(stream: MediaStream): void {
  for (const track of stream.getTracks()) track.stop();
}
