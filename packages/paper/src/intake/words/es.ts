import type { IntakeWords } from './tell.ts';

export const CELL_PROBLEMS: IntakeWords['cells'] = {
  'empty cell': ['{label}: está vacío', 'Complételo, o dé un valor por defecto en la asignación.'],
  'no date': [
    'no es una fecha que exista',
    'Escríbala como AAAA-MM-DD; aquí las fechas se leen como {order}.',
  ],
  'no number': ['no es un número de {least} a {most}', 'Corrija el número.'],
  'no word': [
    'no es una palabra para esto',
    'Use una de estas: {words}; o diga en la asignación lo que significa.',
  ],
  'not yes or no': ['no es ni sí ni no', 'Use sí o no.'],
  'column missing': ['la asignación nombra una columna que la hoja no tiene', 'La hoja tiene: {columns}.'],
  'columns alike': [
    '{count} columnas tienen este nombre',
    'Dé a cada una el suyo, o déjelas fuera en la asignación.',
  ],
  'columns both': [
    'esta y «{other}» se toman las dos por: {label}',
    'Nombre una sola de las dos en la asignación.',
  ],
  'no property said': ['nada dice qué propiedad es', 'Dé su número, o su nombre, calle y código postal.'],
  'no such property': [
    'no hay tal propiedad en estos archivos ni en el registro',
    'Importe antes su propiedad, o en la misma vez.',
  ],
  'properties alike': [
    '{count} propiedades tienen este nombre',
    'Dé el número de la propiedad, o su calle y código postal.',
  ],
  'another number': [
    'una propiedad de este nombre y lugar se conoce con otro número',
    'Use ese número; o distinga dos propiedades por el nombre, como el de una unidad.',
  ],
  'another number said': [
    'una propiedad de este nombre y lugar se conoce con otro número ({number})',
    'Use ese número; o distinga dos propiedades por el nombre, como el de una unidad.',
  ],
  'property withdrawn': ['la propiedad se importó antes y luego se retiró', 'Recupere antes su entrada.'],
  'said otherwise': [
    '{place} dice «{text}» de la misma propiedad',
    'Haga que las filas digan lo mismo ({label}), o deje la columna fuera de una hoja.',
  ],
  'no name': ['la propiedad no tiene nombre', 'Dé un nombre; sirve el del cliente.'],
  'no branch yet': ['la empresa todavía no tiene sucursal', 'Anote antes la sucursal de la empresa.'],
  'no profile yet': [
    'la empresa todavía no tiene perfil de etiqueta',
    'Anote antes el perfil de etiqueta de la empresa.',
  ],
  'name of several': ['es el nombre de más de uno', 'Use el identificador: {ids}.'],
  'branch not said': [
    'no dice qué sucursal',
    'Use una de estas: {names}; o dé un valor por defecto en la asignación.',
  ],
  'profile not said': [
    'no dice qué perfil de etiqueta',
    'Use uno de estos: {names}; o dé un valor por defecto en la asignación.',
  ],
  'not the firm’s': [
    'no es ninguno de los de la empresa',
    'Use uno de estos: {names}; o dé un valor por defecto en la asignación.',
  ],
  'no time zone': ['no es una zona horaria', 'Nombre una zona IANA, como America/New_York.'],
  'agreement without start': [
    'el contrato tiene día de renovación y no tiene comienzo',
    'Dé los dos días, o deje fuera la columna de renovaciones.',
  ],
  'renewal before start': ['es anterior al comienzo del contrato ({day})', 'Corrija uno de los dos días.'],
  'half a place on earth': ['falta la latitud o la longitud', 'Dé las dos, o ninguna.'],
  'no such station': [
    'la propiedad no tiene estación {number}',
    'Importe antes sus estaciones, o en la misma vez.',
  ],
  'no ring number': ['no tiene número en el anillo', 'Dé un número entero desde 1.'],
  'long name': ['tiene más de {most} caracteres', 'Dé un nombre corto.'],
  'no day set': ['no dice cuándo se puso la estación', 'Dé el día: los plazos se cuentan desde él.'],
  'set in the future': [
    'está en el futuro',
    'Corrija el día; las estaciones se registran cuando ya están puestas.',
  ],
  'station withdrawn': [
    'la estación se importó antes y luego se retiró o se reemplazó',
    'Corrija antes su entrada en la propiedad.',
  ],
  'station said otherwise': [
    '{place} dice otra cosa de la misma estación',
    'Quédese con una de las dos filas, o corrija el número.',
  ],
  'set another day': [
    '{place} dice que se puso el {day}',
    'Corrija la fila; o corrija la entrada en la estación.',
  ],
  'another model': [
    '{place} dice que es: {model}',
    'Corrija la fila; o registre que la estación se reemplazó.',
  ],
  'another foundation': [
    '{place} dice {foundation} de la misma estructura',
    'Haga que las filas digan lo mismo.',
  ],
  'no model said': [
    'no dice qué clase de estación es',
    'Use una de estas: {models}; o dé un valor por defecto en la asignación.',
  ],
  'no such model': [
    'no es ninguno de los modelos de estación de la empresa',
    'Use uno de estos: {models}; o diga en la asignación lo que significa.',
  ],
  'half a place on the plan': ['falta una de las dos coordenadas', 'Dé las dos, o ninguna.'],
  'look said otherwise': [
    'hay registrada otra revisión de esta estación el {day}, y dice otra cosa',
    'Corrija la fila, o corrija la entrada en la estación.',
  ],
  'seen before set': [
    'es anterior al día en que se puso la estación ({day})',
    'Corrija uno de los dos días.',
  ],
  'seen in the future': ['está en el futuro', 'Corrija el día; solo se registra lo que se vio.'],
  'service among live termites': [
    'dice que se hizo el servicio anual donde se hallaron termitas vivas',
    'Diga no, y el servicio queda pendiente; o corrija lo hallado.',
  ],
  'service unopened': [
    'dice que se hizo el servicio anual en una estación que no se abrió',
    'Diga no, y el servicio queda pendiente; o corrija lo hallado.',
  ],
  'bait where none goes': [
    'dice que se puso cebo, y este modelo no lo lleva: {model}',
    'Corrija una de las dos cosas.',
  ],
  'bait unopened': ['dice que se puso cebo en una estación que no se abrió', 'Corrija una de las dos cosas.'],
  'another licence': [
    'otra fila de esta visita da a {technician} la licencia «{licence}»',
    'Haga que las filas digan lo mismo.',
  ],
  'licence imported': [
    'una importación anterior cerró esta visita con la licencia «{licence}»',
    'Corrija la fila, o corrija la entrada de la visita.',
  ],
  'nothing found said': [
    'no dice lo que se halló',
    'Diga una de estas: {words}; o, si una celda vacía significa ninguna, dé eso como valor por defecto en la asignación.',
  ],
  'found unopened': [
    'dice lo que se halló en una estación que no se abrió ({reach})',
    'Corrija una de las dos celdas.',
  ],
  'bait from nowhere': [
    'habla de cebo en una estación, y ninguna fila dice que allí se puso cebo',
    'Diga sí en una columna de cebo agregado, en la fila de ese día; o agregue una fila con el día en que se puso.',
  ],
};

export const FILE_PROBLEMS: IntakeWords['files'] = {
  empty: ['está vacío', 'Elija otro archivo.'],
  'too large': ['pasa de {most} MB', 'Pártalo en varios archivos.'],
  'no header': [
    'no tiene una fila con nombres de columna',
    'Ponga los nombres de columna en la primera fila.',
  ],
  'too wide': ['la fila {row} tiene más de {most} columnas', 'Deje fuera lo que no es registro.'],
  'too many cells': ['tiene más de {most} celdas', 'Pártalo en varios archivos.'],
  'too many rows': ['tiene más de {most} filas', 'Pártalo en varios archivos.'],
  'too many texts': ['tiene más de {most} textos', 'Pártalo en varios archivos.'],
  'long cell': ['una celda de la fila {row} tiene más de {most} caracteres', 'Acórtela.'],
  'long text': ['la celda que empieza «{start}» tiene más de {most} caracteres', 'Acórtela.'],
  'quote open': [
    'la línea {line} no se puede leer: una celda entre comillas no termina',
    'Arregle las comillas de esa línea, o guarde la hoja como XLSX.',
  ],
  'line broken': [
    'la línea {line} no se puede leer ({code})',
    'Arregle las comillas de esa línea, o guarde la hoja como XLSX.',
  ],
  'no text': ['no es texto ni un libro XLSX', 'Guárdelo como CSV (UTF-8) o XLSX.'],
  'no spreadsheet': ['no es una hoja de cálculo', 'Guárdelo como XLSX o CSV.'],
  swollen: ['al descomprimirse pasa de {most} MB', 'Pártalo en varios archivos.'],
  damaged: [
    'el libro está dañado o cortado',
    'Ábralo en un programa de hojas de cálculo y guárdelo de nuevo como XLSX.',
  ],
  'part missing': [
    'al libro le falta su parte {part}',
    'Ábralo en un programa de hojas de cálculo y guárdelo de nuevo como XLSX.',
  ],
  'document type': ['el libro declara un tipo de documento', 'Guárdelo de nuevo como XLSX.'],
  'broken XML': [
    'el libro tiene XML que no se puede leer',
    'Ábralo en un programa de hojas de cálculo y guárdelo de nuevo como XLSX.',
  ],
};

export const NOTES: IntakeWords['notes'] = {
  'no column': '(sin columna para: {label})',
  row: '{file}, fila {row}',
  'sheet row': '{file}, hoja {sheet}, fila {row}',
  cell: '{row}, columna {column}',
  ledger: 'el registro',
  or: '{a} o {b}',
  'not UTF-8': 'El archivo no está en UTF-8; se leyó como Windows-1252. Revise los nombres con acentos.',
  'date orders mixed':
    'Unas fechas ponen primero el día y otras el mes: las que no encajan se nombran abajo.',
  'date order open':
    'Ninguna fecha dice si va primero el día o el mes; se tomó primero el mes. Cámbielo con dateOrder en la asignación.',
};

export const FIELD_LABELS: IntakeWords['fields'] = {
  reference: 'su número para la propiedad',
  name: 'nombre de la propiedad',
  customerName: 'nombre del cliente',
  email: 'correo del cliente',
  phone: 'teléfono del cliente',
  street: 'calle y número',
  town: 'población',
  state: 'estado',
  postcode: 'código postal',
  branch: 'sucursal',
  timeZone: 'zona horaria (IANA)',
  profile: 'perfil de etiqueta',
  agreementStart: 'el contrato comienza',
  agreementRenewal: 'el contrato se renueva',
  accessNotes: 'notas de acceso',
  hazards: 'peligros',
  latitude: 'latitud',
  longitude: 'longitud',
  structure: 'estructura',
  foundation: 'tipo de cimiento',
  stationNumber: 'número de estación',
  tag: 'código de etiqueta',
  model: 'modelo de estación',
  installedOn: 'instalada el',
  eastMetres: 'metros al este',
  northMetres: 'metros al norte',
  visitDate: 'visitada el',
  technician: 'técnico',
  licence: 'número de licencia',
  task: 'tarea (revisión, servicio anual)',
  reach: 'acceso (abierta, no hallada, bloqueada)',
  termites: 'termitas halladas',
  baitLeft: 'cebo restante',
  baitAdded: 'cebo agregado (sí, no)',
  monitor: 'estado del monitor',
  housing: 'estado de la carcasa',
  occupants: 'otros ocupantes',
  serviceDone: 'servicio anual hecho (sí, no)',
  note: 'nota',
};
