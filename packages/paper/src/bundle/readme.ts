import type { PaperLanguage } from '../report/words/say.ts';
import type { BundleProof } from './bundle.ts';

/** Short enough to be read before it is run; needs nothing but Python 3. */
export const CHECK_SCRIPT = `# Checks the entries of this folder against their hashes. Read it before you run it: python3 check.py
import hashlib
import json

manifest = json.load(open("manifest.json", encoding="utf-8"))
for name, expected in manifest["files"].items():
    found = hashlib.sha256(open(name, "rb").read()).hexdigest()
    assert found == expected, name + " is not the file that the manifest names"

count = 0
before = {"seq": 0, "hash": "0" * 64}
for line in open("entries.ndjson", encoding="utf-8"):
    entry = json.loads(line)
    joined = bytes.fromhex(entry["previousHash"]) + entry["text"].encode("utf-8")
    assert hashlib.sha256(joined).hexdigest() == entry["hash"], "entry %d was changed" % entry["seq"]
    assert json.loads(entry["text"])["receipt"]["seq"] == entry["seq"], "entry %d was moved" % entry["seq"]
    assert entry["seq"] > before["seq"], "entry %d is out of order" % entry["seq"]
    if entry["seq"] == before["seq"] + 1:
        assert entry["previousHash"] == before["hash"], "the chain breaks before entry %d" % entry["seq"]
    count += 1
    before = entry
assert count == manifest["entries"], "entries are missing"

chain = manifest["chain"]
assert chain["sound"], "the firm's chain was broken when this was written: " + chain.get("why", "")
if manifest["scope"] == "whole ledger":
    assert count == before["seq"] == chain["facts"], "entries are missing from the whole ledger"
    assert before["hash"] == chain["head"], "the last entry is not the head of the chain"
    print("%d entries, the whole ledger: unchanged up to the head %s" % (count, chain["head"]))
else:
    print("%d of %d entries: each is unchanged if its hash is the one known elsewhere" % (count, chain["facts"]))
`;

export interface ReadmeInput {
  readonly firm: { readonly name: string };
  readonly writtenAt: string;
  readonly scope: 'whole ledger' | 'entries of the record';
  readonly proof: BundleProof;
  readonly count: number;
  readonly lang: PaperLanguage;
}

/** How a third party recomputes the proof, and what it does and does not show. */
export function readmeText({ firm, writtenAt, scope, proof, count, lang }: ReadmeInput): string {
  const head = proof.sound ? proof.head : '-';
  switch (lang) {
    case 'en-US':
      return `PESTICIDE APPLICATION RECORD WITH PROOF
${firm.name}
Written at ${writtenAt}

applications.pdf   the record, to read and print
applications.csv   the same record as a table (RFC 4180); a leading apostrophe keeps a spreadsheet from running a text
entries.ndjson     the stored entries behind it, one JSON object a line: ${count} entries, ${scope}
manifest.json      what this bundle holds, SHA-256 of each file, and what checking the chain came to
check.py           the recipe below as a short script: read it, then run python3 check.py in this folder

HOW TO CHECK IT WITHOUT US
Every entry of a firm is joined to the one before it:
  hash(n) = SHA-256 of: the 32 bytes of hash(n-1), then the UTF-8 bytes of the entry's text.
  hash(0) is 32 zero bytes. Hashes are written in hexadecimal.
1. For each line of entries.ndjson take previousHash (as bytes) and text (as UTF-8), join them, and compute SHA-256.
   It must be the line's hash.
2. Where two lines have neighbouring seq, the second's previousHash must be the first's hash.
3. With the whole ledger, seq runs from 1 without a gap and the last hash is the head: ${head}

WHAT IT SHOWS
${
  proof.sound
    ? `When this was written the whole chain of ${proof.facts} entries was walked and was sound.`
    : `THE CHAIN WAS BROKEN at entry ${proof.brokenAtSeq} when this was written: ${proof.why}. Entries from there on prove nothing.`
}
With the whole ledger: no entry was changed, removed, inserted or moved since the head was known. Ask for a head that was
written down earlier (a backup, an earlier bundle) and find its hash among the lines.
With the entries of the record only: each entry's text is the one behind its hash. Whether entries are missing between them
cannot be told from this bundle; ask for the whole ledger.
It does not show what was never recorded.
`;
    case 'es-US':
      return `REGISTRO DE APLICACIONES DE PESTICIDAS CON PRUEBA
${firm.name}
Escrito el ${writtenAt}

applications.pdf   el registro, para leer e imprimir
applications.csv   el mismo registro como tabla (RFC 4180); un apóstrofo al inicio impide que una hoja de cálculo ejecute un texto
entries.ndjson     las entradas guardadas, un objeto JSON por línea: ${count} entradas, ${scope === 'whole ledger' ? 'el libro entero' : 'las entradas del registro'}
manifest.json      lo que contiene este paquete, el SHA-256 de cada archivo y el resultado de revisar la cadena
check.py           la receta de abajo como un programa corto: léalo y luego ejecute python3 check.py en esta carpeta

CÓMO COMPROBARLO SIN NOSOTROS
Cada entrada de una empresa está unida a la anterior:
  hash(n) = SHA-256 de: los 32 bytes de hash(n-1) y después los bytes UTF-8 del texto de la entrada.
  hash(0) son 32 bytes cero. Los hash se escriben en hexadecimal.
1. Para cada línea de entries.ndjson tome previousHash (como bytes) y text (como UTF-8), únalos y calcule SHA-256.
   Debe ser el hash de la línea.
2. Donde dos líneas tienen seq vecinos, previousHash de la segunda debe ser el hash de la primera.
3. Con el libro entero, seq va desde 1 sin huecos y el último hash es la cabeza: ${head}

QUÉ MUESTRA
${
  proof.sound
    ? `Al escribir esto se recorrió toda la cadena de ${proof.facts} entradas y estaba entera.`
    : `LA CADENA ESTABA ROTA en la entrada ${proof.brokenAtSeq} al escribir esto: ${proof.why}. Desde allí las entradas no prueban nada.`
}
Con el libro entero: ninguna entrada fue cambiada, quitada, agregada ni movida desde que se conoce la cabeza. Pida una cabeza
anotada antes (una copia de seguridad, un paquete anterior) y busque su hash entre las líneas.
Solo con las entradas del registro: el texto de cada entrada es el de su hash. Si faltan entradas entre ellas no se puede saber
con este paquete; pida el libro entero.
No muestra lo que nunca se registró.
`;
  }
}
