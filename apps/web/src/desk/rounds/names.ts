import { useQuery } from '@tanstack/react-query';
import { getJson } from '../../api/client.ts';

export interface NamedPlace {
  readonly name: string;
  readonly town: string;
  readonly position: { readonly latitude: number; readonly longitude: number } | null;
}

export type NamesByProperty = ReadonlyMap<string, NamedPlace>;

interface Page {
  readonly properties: readonly (NamedPlace & { readonly property: string })[];
  readonly next: string | null;
}

const NOTHING: NamesByProperty = new Map();

/** Name, town and place of every property that the person may see. */
export function usePropertyNames(): NamesByProperty {
  const names = useQuery({
    queryKey: ['property names'],
    staleTime: 60_000,
    queryFn: async (): Promise<NamesByProperty> => {
      const byProperty = new Map<string, NamedPlace>();
      for (let after: string | null = ''; after !== null; ) {
        const page: Page = await getJson<Page>(
          `/api/properties?limit=5000${after === '' ? '' : `&after=${encodeURIComponent(after)}`}`,
        );
        for (const { property, ...place } of page.properties) byProperty.set(property, place);
        after = page.next;
      }
      return byProperty;
    },
  });
  return names.data ?? NOTHING;
}
