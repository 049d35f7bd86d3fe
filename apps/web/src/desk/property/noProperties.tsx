import { Link } from 'wouter';
import { useMe } from '../../api/queries.ts';
import { Notice } from '../../shared/notice.tsx';
import { useWords } from '../../words/index.ts';

/** A firm that has no property yet: what brings them in, for those who may. */
export function NoProperties() {
  const w = useWords();
  const role = useMe().data?.role;
  return (
    <Notice title={w.due.noProperties}>
      <p>{w.due.noPropertiesRemedy}</p>
      {(role === 'lead' || role === 'owner') && (
        <div className="buttons">
          <Link href="/office/import" className="button">
            {w.desk.office.places.import}
          </Link>
          <Link href="/office/profiles" className="button">
            {w.desk.office.places.profiles}
          </Link>
        </div>
      )}
    </Notice>
  );
}
