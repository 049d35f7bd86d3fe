import type { papers as english } from './en.papers.ts';
import { formatIn } from './format.ts';

const { number, plural } = formatIn('es-US');

/** Words of the papers page, in Spanish. */
export const papers: typeof english = {
  papers: {
    title: 'Documentos',
    lead: 'Elija un documento, vea qué contendrá y descargue el archivo.',
    inspectorTitle: 'Registros',
    inspectorLead:
      'Qué se aplicó, quién, dónde y cuándo, tal como se anotó y con cada corrección. Aquí nada se puede cambiar.',
    which: 'Qué documento',
    names: {
      worklist: 'Lista de trabajo de un día',
      record: 'Registro de aplicaciones',
      stations: 'Inventario de estaciones',
      labels: 'Etiquetas',
      renewals: 'Cartas de renovación',
      bundle: 'Paquete para el inspector',
    },
    language: 'Idioma del documento',
    find: 'Buscar una propiedad',
    property: 'Propiedad',
    listed: (shown, found, all) =>
      all === 0
        ? 'Todavía no hay propiedades.'
        : found === 0
          ? `Ninguna de ${plural(all, 'propiedad', 'propiedades')} coincide: escriba menos letras.`
          : shown < found
            ? `La lista de abajo muestra ${number(shown)} de ${number(found)}: escriba parte del nombre para acortarla.`
            : `La lista de abajo muestra ${found === all ? 'todas las propiedades' : `las ${number(found)} que coinciden`}.`,
    pickProperty: 'Elija una',
    everyProperty: 'Todas las propiedades',
    get: {
      pdf: 'Descargar el PDF',
      csv: 'Descargar la tabla (CSV)',
      zip: 'Descargar el paquete (ZIP)',
      html: 'Abrir como página',
    },
    beingWritten: 'Se está preparando el archivo. Los largos tardan un minuto.',
    look: 'Verlo aquí',
    preview: (name: string) => `${name}, tal como será`,
    handOut: 'entregar',
    day: 'Día',
    technician: 'Técnico',
    noRound: 'No se envió ninguna ruta para este día',
    noRoundRemedy: 'Elija otro día, o envíe rutas desde el plan.',
    holdsRound: (visits: number, works: number) =>
      `${plural(visits, 'parada', 'paradas')} con trabajo en ${plural(works, 'lugar', 'lugares')}, en orden de manejo.`,
    record: {
      from: 'Desde',
      to: 'Hasta',
      technician: 'Técnico',
      technicianHint: 'Nombre o número de certificación, completo',
      product: 'Producto',
      productHint: 'Número de registro de la EPA',
    },
    holdsRecord: ({ applications, wordings, properties }) =>
      applications === 0
        ? 'No hay ninguna aplicación anotada para esto. El documento lo dice.'
        : `${plural(applications, 'aplicación', 'aplicaciones')} en ${plural(properties, 'propiedad', 'propiedades')}${wordings > applications ? `; con correcciones, ${plural(wordings, 'entrada', 'entradas')}` : ''}.`,
    gaps: (n: number) =>
      `A ${plural(n, 'entrada le', 'entradas les')} falta algo que el registro debe contener; el documento lo nombra.`,
    whole: 'Con todas las entradas de la empresa',
    wholeHow: 'Así la cadena se puede recalcular desde el comienzo, y muestra que no falta nada.',
    partHow:
      'Solo las entradas del registro. Cada una se puede comprobar, pero no que no falte nada entre ellas.',
    inBundle:
      'En el archivo: el registro en PDF y como tabla, las entradas guardadas con sus huellas, y un pequeño programa que las comprueba sin nosotros.',
    chain: '¿Se cambió algo después?',
    chainHow:
      'Cada entrada está sellada junto con la anterior. Comprobarlas todas muestra si un registro guardado fue alterado, quitado o intercalado.',
    check: 'Comprobar todas las entradas',
    checking: 'Comprobando…',
    sound: (n: number) =>
      `No se cambió nada: ${plural(n, 'entrada comprobada', 'entradas comprobadas')}, cada una concuerda con la anterior`,
    soundHow: 'El último sello. Anótelo: el mismo número de entradas debe dar otra vez el mismo sello.',
    broken: (n: number) => `Algo se cambió: la entrada ${number(n)} no concuerda con la anterior`,
    brokenHow: (n: number) =>
      `Antes de ella, ${plural(n, 'entrada concuerda', 'entradas concuerdan')}. Guarde una copia de la base de datos tal como está y compárela con el último respaldo.`,
    holdsStations: (standing: number, removed: number) =>
      `${plural(standing, 'estación', 'estaciones')} en servicio${removed > 0 ? `, ${number(removed)} retiradas` : ''}.`,
    month: 'Mes en que termina el contrato',
    noRenewals: 'Ningún contrato termina en este mes',
    noRenewalsRemedy: 'Elija otro mes. Una propiedad sin contrato no tiene carta.',
    holdsRenewals: (n: number) => `${plural(n, 'carta', 'cartas')}, primero la más próxima.`,
    lettersLanguage: 'Idioma de las cartas',
    ownLanguage: 'el de cada cliente',
    sides: 'Impresas por',
    sidesOf: { one: 'una cara de la hoja', both: 'las dos caras: cada carta empieza en una hoja propia' },
    lettersHow:
      'Todas las cartas del mes en un solo archivo, listas para imprimir; al final, cuáles no se escribieron y por qué.',
    letterByLetter: 'Carta por carta',
    leftOut: 'No escritas',
    holdsLeftOut: (n: number) =>
      `${plural(n, 'carta no está escrita', 'cartas no están escritas')}: falta algo.`,
    lacks: (what: string) => `falta: ${what}`,
    letterGaps: {
      'no customer': 'nombre del cliente',
      'no address': 'calle o ciudad',
      'no station': 'una estación en servicio',
      'no label profile': 'perfil de etiqueta',
    },
    listedOnly: (shown: number, all: number) =>
      `La lista muestra las primeras ${number(shown)} de ${number(all)}; el archivo las tiene todas.`,
    letterOf: (day: string, customer: string) =>
      customer === '' ? `termina ${day}` : `${customer}, termina ${day}`,
    labelsFor: 'Etiquetas para',
    labelsOf: {
      stations: 'estaciones que ya tienen código',
      'new tags': 'códigos nuevos, antes de ponerlos en la tierra',
    },
    prefix: 'Letras antes del número',
    prefixHint: '20 como máximo; puede quedar vacío',
    prefixWrong: '20 letras como máximo',
    firstTag: 'Primer número',
    firstTagHint: 'Conserva su ancho: a 0099 le sigue 0100',
    firstTagWrong: 'Solo cifras, 12 como máximo',
    count: 'Cuántas',
    countWrong: 'Un número entero de 1 a 2000',
    newTags: (from, to) => (from === to ? `Código ${from}.` : `Códigos ${from} a ${to}.`),
    newTagsHow:
      'Anote dónde se quedó: nada se registra antes de que una estación lleve su código, y no se nota un número impreso dos veces.',
    ownStock: 'Medidas propias',
    ownKind: 'Qué hay en la impresora',
    ownKinds: { sheet: 'hojas', roll: 'un rollo' },
    ownLead: 'En milímetros, desde la esquina superior izquierda de la hoja. Se guardan en este navegador.',
    measures: {
      pageWidthMm: 'Hoja, ancho',
      pageHeightMm: 'Hoja, alto',
      columns: 'Etiquetas a lo ancho',
      rows: 'Etiquetas a lo alto',
      labelWidthMm: 'Etiqueta, ancho',
      labelHeightMm: 'Etiqueta, alto',
      leftMm: 'Del borde izquierdo a la primera etiqueta',
      topMm: 'Del borde superior a la primera etiqueta',
      pitchXMm: 'De una etiqueta a la siguiente, a lo ancho',
      pitchYMm: 'De una etiqueta a la siguiente, a lo alto',
    },
    measureWrong: 'Milímetros de 0 a 2000',
    countOfWrong: 'Un número entero de 1 a 100',
    measuresLack: 'Escriba antes todas las medidas.',
    stock: 'Etiquetas',
    sheet: (page: string, columns: number, rows: number) =>
      `Hoja, ${page === 'letter' ? 'carta' : page}: ${number(columns)} a lo ancho, ${number(rows)} a lo alto`,
    roll: (size: string) => `Rollo, ${size} mm`,
    only: 'Estaciones',
    onlyHint: 'Números, por ejemplo 1-10, 14. Vacío = todas',
    onlyWrong: 'Escriba números y tramos: 1-10, 14',
    first: 'Primer lugar libre de la hoja',
    firstHint: 'Contado desde arriba a la izquierda, fila por fila',
    firstWrong: (n: number) => `Un número entero de 1 a ${number(n)}`,
    holdsLabels: (labels: number, sheets: number) =>
      `${plural(labels, 'etiqueta', 'etiquetas')} en ${plural(sheets, 'hoja', 'hojas')}.`,
    holdsRoll: (labels: number) => `${plural(labels, 'etiqueta', 'etiquetas')}, una tras otra.`,
    untagged: (n: number) => `${plural(n, 'estación no tiene', 'estaciones no tienen')} etiqueta todavía.`,
    noTags: 'No hay ninguna etiqueta que imprimir',
    noTagsRemedy: (n: number): string =>
      n === 0
        ? 'Ninguna estación en servicio tiene uno de estos números.'
        : 'Ninguna de estas estaciones tiene código todavía: anote uno, o imprima primero etiquetas nuevas.',
    plainFirst:
      'Imprima a tamaño completo y compare la primera prueba en papel común con una hoja de etiquetas.',
  },
};
