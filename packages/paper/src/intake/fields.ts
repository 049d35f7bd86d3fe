export const RECORD_TYPES = ['properties', 'stations', 'visits'] as const;
export type RecordType = (typeof RECORD_TYPES)[number];

interface FieldWords {
  readonly label: string;
  /** Headers that mean it, in English and Spanish; compared without case, accents and punctuation. */
  readonly headers: readonly string[];
}

/** What a column can be. The order decides between columns that fit equally well. */
export const FIELDS = {
  reference: {
    label: 'your number for the property',
    headers: [
      'property id',
      'property no',
      'property number',
      'account',
      'account number',
      'customer number',
      'customer id',
      'reference',
      'ref',
      'id de propiedad',
      'cuenta',
      'numero de cliente',
      'referencia',
    ],
  },
  name: {
    label: 'name of the property',
    headers: [
      'property',
      'property name',
      'name',
      'site',
      'site name',
      'location name',
      'propiedad',
      'nombre',
      'nombre de la propiedad',
      'sitio',
    ],
  },
  customerName: {
    label: 'customer’s name',
    headers: [
      'customer',
      'customer name',
      'client',
      'client name',
      'owner',
      'cliente',
      'nombre del cliente',
      'propietario',
    ],
  },
  email: {
    label: 'customer’s e-mail',
    headers: ['email', 'e mail', 'mail', 'email address', 'correo', 'correo electronico'],
  },
  phone: {
    label: 'customer’s telephone',
    headers: ['phone', 'telephone', 'tel', 'mobile', 'phone number', 'telefono', 'movil', 'celular'],
  },
  street: {
    label: 'street and number',
    headers: [
      'street',
      'address',
      'street address',
      'address 1',
      'address line 1',
      'service address',
      'calle',
      'direccion',
      'domicilio',
    ],
  },
  town: { label: 'town', headers: ['town', 'city', 'place', 'ciudad', 'localidad', 'municipio'] },
  state: { label: 'state', headers: ['state', 'st', 'province', 'estado', 'provincia'] },
  postcode: {
    label: 'postcode',
    headers: ['postcode', 'zip', 'zip code', 'zipcode', 'postal code', 'codigo postal', 'cp'],
  },
  branch: { label: 'branch', headers: ['branch', 'office', 'region', 'sucursal', 'oficina'] },
  timeZone: { label: 'time zone (IANA)', headers: ['time zone', 'timezone', 'zona horaria', 'huso horario'] },
  profile: { label: 'label profile', headers: ['profile', 'label profile', 'perfil', 'perfil de etiqueta'] },
  agreementStart: {
    label: 'agreement starts on',
    headers: [
      'agreement start',
      'contract start',
      'start date',
      'starts on',
      'start',
      'inicio',
      'inicio del contrato',
      'fecha de inicio',
    ],
  },
  agreementRenewal: {
    label: 'agreement renews on',
    headers: [
      'renewal',
      'renewal date',
      'renews on',
      'renew',
      'expires',
      'expiry',
      'renovacion',
      'fecha de renovacion',
      'vence',
    ],
  },
  accessNotes: {
    label: 'access notes',
    headers: ['access', 'access notes', 'directions', 'gate', 'acceso', 'notas de acceso'],
  },
  hazards: {
    label: 'hazards',
    headers: ['hazard', 'hazards', 'warning', 'danger', 'peligro', 'peligros', 'riesgos'],
  },
  latitude: { label: 'latitude', headers: ['latitude', 'lat', 'latitud'] },
  longitude: { label: 'longitude', headers: ['longitude', 'lon', 'long', 'lng', 'longitud'] },
  structure: {
    label: 'structure',
    headers: ['structure', 'building', 'structure name', 'estructura', 'edificio'],
  },
  foundation: {
    label: 'foundation type',
    headers: ['foundation', 'foundation type', 'cimientos', 'cimentacion', 'tipo de cimientos'],
  },
  stationNumber: {
    label: 'station number',
    headers: [
      'station',
      'station number',
      'station no',
      'stn',
      'stn no',
      'number on ring',
      'estacion',
      'numero de estacion',
      'no de estacion',
    ],
  },
  tag: { label: 'tag code', headers: ['tag', 'tag code', 'barcode', 'qr', 'etiqueta', 'codigo de etiqueta'] },
  model: {
    label: 'station model',
    headers: ['model', 'station model', 'station type', 'type of station', 'modelo', 'tipo de estacion'],
  },
  installedOn: {
    label: 'installed on',
    headers: [
      'installed',
      'installed on',
      'install date',
      'installation date',
      'date installed',
      'instalada',
      'fecha de instalacion',
    ],
  },
  eastMetres: { label: 'metres east', headers: ['x', 'east', 'east m', 'x m', 'este'] },
  northMetres: { label: 'metres north', headers: ['y', 'north', 'north m', 'y m', 'norte'] },
  visitDate: {
    label: 'visited on',
    headers: [
      'visit date',
      'date of visit',
      'visited',
      'visited on',
      'check date',
      'checked on',
      'inspection date',
      'service date',
      'date',
      'fecha',
      'fecha de visita',
      'fecha de inspeccion',
      'fecha de servicio',
    ],
  },
  technician: {
    label: 'technician',
    headers: ['technician', 'tech', 'inspector name', 'serviced by', 'checked by', 'tecnico'],
  },
  licence: {
    label: 'licence number',
    headers: [
      'licence',
      'license',
      'licence number',
      'license number',
      'certification',
      'licencia',
      'numero de licencia',
    ],
  },
  task: {
    label: 'task (check, yearly service)',
    headers: ['task', 'service', 'service type', 'visit type', 'tarea', 'servicio', 'tipo de servicio'],
  },
  reach: {
    label: 'reach (opened, not found, blocked)',
    headers: ['reach', 'access status', 'opened', 'accessible', 'accesible', 'abierta'],
  },
  termites: {
    label: 'termites found',
    headers: [
      'termites',
      'activity',
      'finding',
      'findings',
      'status',
      'result',
      'termitas',
      'actividad',
      'hallazgo',
      'resultado',
    ],
  },
  baitLeft: {
    label: 'bait left',
    headers: ['bait left', 'bait remaining', 'bait level', 'bait', 'cebo restante', 'cebo'],
  },
  baitAdded: {
    label: 'bait put in (yes, no)',
    headers: ['bait added', 'bait put in', 'baited', 'bait installed', 'cebo agregado', 'cebo puesto'],
  },
  monitor: {
    label: 'condition of the monitor',
    headers: ['monitor', 'monitor condition', 'wood', 'wood condition', 'condicion del monitor', 'madera'],
  },
  housing: {
    label: 'condition of the housing',
    headers: [
      'housing',
      'housing condition',
      'station condition',
      'cap',
      'condicion de la estacion',
      'carcasa',
      'tapa',
    ],
  },
  occupants: {
    label: 'other occupants',
    headers: [
      'occupants',
      'other occupants',
      'other pests',
      'ants',
      'otros ocupantes',
      'ocupantes',
      'hormigas',
    ],
  },
  serviceDone: {
    label: 'yearly service done (yes, no)',
    headers: ['done', 'completed', 'service done', 'hecho', 'completado'],
  },
  note: {
    label: 'note',
    headers: [
      'note',
      'notes',
      'comment',
      'comments',
      'remarks',
      'nota',
      'notas',
      'comentario',
      'comentarios',
      'observaciones',
    ],
  },
} as const satisfies Readonly<Record<string, FieldWords>>;

export type Field = keyof typeof FIELDS;

export function isField(name: string): name is Field {
  return Object.hasOwn(FIELDS, name);
}

export function listFields(): readonly Field[] {
  return Object.keys(FIELDS).filter(isField);
}

/** Fields whose values are days. */
export const DATE_FIELDS: ReadonlySet<Field> = new Set([
  'agreementStart',
  'agreementRenewal',
  'installedOn',
  'visitDate',
]);
