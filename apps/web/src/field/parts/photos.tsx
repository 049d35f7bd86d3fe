import { type ChangeEvent, useEffect, useState } from 'react';
import { useWords } from '../../words/index.ts';
import { useStore } from '../yard.tsx';

interface Props {
  readonly hashes: readonly string[];
  readonly onChange: (hashes: readonly string[]) => void;
}

/** Photos of a record: taken with the phone's camera, made small and kept on the phone before the record names them. */
export function Photos({ hashes, onChange }: Props) {
  const w = useWords();
  const store = useStore();
  const [isBusy, setBusy] = useState(false);
  const [failed, setFailed] = useState(false);
  const take = async (event: ChangeEvent<HTMLInputElement>) => {
    const picture = event.target.files?.[0];
    event.target.value = '';
    if (picture === undefined) return;
    setBusy(true);
    setFailed(false);
    try {
      const { hash } = await store.addPhoto(picture);
      if (!hashes.includes(hash)) onChange([...hashes, hash]);
    } catch {
      setFailed(true);
    } finally {
      setBusy(false);
    }
  };
  return (
    <div className="photos">
      <label className="button photo-take">
        <input type="file" accept="image/*" capture="environment" onChange={take} disabled={isBusy} />
        {hashes.length === 0 ? w.field.station.photo : w.field.station.photos(hashes.length)}
      </label>
      {hashes.map((hash, index) => (
        <figure key={hash} className="photo">
          <Thumbnail hash={hash} words={w.field.station.photoOf(index + 1)} />
          <button
            type="button"
            className="button"
            aria-label={w.field.station.removePhoto(index + 1)}
            onClick={() => onChange(hashes.filter((one) => one !== hash))}
          >
            ×
          </button>
        </figure>
      ))}
      {failed && (
        <p role="alert" className="field-error">
          {w.field.station.photoFailed}
        </p>
      )}
    </div>
  );
}

export function Thumbnail({ hash, words }: { readonly hash: string; readonly words: string }) {
  const store = useStore();
  const [url, setUrl] = useState<string>();
  useEffect(() => {
    let made: string | undefined;
    let isCurrent = true;
    void store.photoUrl(hash, 'thumbnail').then((found) => {
      made = found;
      if (isCurrent) setUrl(found);
      else if (found !== undefined) URL.revokeObjectURL(found);
    });
    return () => {
      isCurrent = false;
      if (made !== undefined) URL.revokeObjectURL(made);
    };
  }, [store, hash]);
  return url === undefined ? <span className="photo-none" /> : <img src={url} alt={words} />;
}
