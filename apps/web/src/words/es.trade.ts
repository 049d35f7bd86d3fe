import type { trade as english } from './en.trade.ts';
import { reasons } from './es.rules.ts';

/** The trade's words in Spanish, as they are said on the job in the United States. */
export const trade: typeof english = {
  tasks: { check: 'Revisión', 'yearly service': 'Servicio anual' },
  reaches: { opened: 'Sí, abierta', 'not found': 'No se encontró', blocked: 'Bloqueada' },
  termites: {
    none: 'Ninguna',
    'signs only': 'Solo señales',
    'live on monitor': 'Vivas, en un monitor',
    'live on bait': 'Vivas, en el cebo',
  },
  termitesHint: {
    none: '',
    'signs only': 'barro, galerías, daño',
    'live on monitor': 'actividad',
    'live on bait': 'están comiendo',
  },
  baitLeft: {
    'no bait': 'Sin cebo',
    full: 'Lleno',
    'three quarters': '¾',
    half: '½',
    'a quarter': '¼',
    gone: 'Nada',
  },
  monitors: {
    sound: 'Bien',
    eaten: 'Comido',
    rotten: 'Podrido',
    swollen: 'Hinchado, no sale',
    missing: 'Falta',
    'no monitor': 'Sin monitor',
  },
  housings: {
    sound: 'Bien',
    'cap damaged': 'Tapa dañada',
    loose: 'Suelta',
    flooded: 'Inundada',
    'filled with soil': 'Llena de tierra',
    broken: 'Rota',
  },
  occupants: {
    none: 'Nada',
    ants: 'Hormigas',
    'stinging insects': 'Insectos que pican',
    'spiders or snakes': 'Arañas o serpientes',
    other: 'Otra cosa',
  },
  inserts: { monitor: 'monitor', bait: 'cebo' },
  foundations: {
    slab: 'losa',
    'crawl space': 'espacio bajo el piso',
    basement: 'sótano',
    pier: 'pilares',
    unknown: 'cimiento desconocido',
  },
  parts: {
    'base-monitor': 'monitor de base',
    'top-monitor': 'monitor superior',
    'single-monitor': 'monitor único',
    'bait-insert': 'inserto de cebo',
    'bait-cup': 'copa de cebo',
    'cap-two-part': 'tapa, estación de dos partes',
    'cap-one-part': 'tapa, estación de una parte',
    'housing-two-part': 'carcasa, estación de dos partes',
    'housing-one-part': 'carcasa, estación de una parte',
  },
  slots: {
    'base monitor': 'monitor de base',
    'top monitor': 'monitor superior',
    monitor: 'monitor',
    'bait cup': 'copa de cebo',
    bait: 'cebo',
  },
  models: {
    'Two-part monitor station': 'Estación de monitor de dos partes',
    'One-part monitor station': 'Estación de monitor de una parte',
    'Always-baited station': 'Estación siempre con cebo',
  },
  steps: {
    'record why and take a photo': 'Anote por qué, y tome una foto',
    'tell the office': 'Avise a la oficina',
    'ask for a replacement': 'Pida un reemplazo',
    'let occupants settle or move them': 'Deje que se calme lo que vive adentro, o muévalo',
    'let occupants settle and move nothing': 'Deje que se calme lo que vive adentro; no mueva nada',
    'sweep and open': 'Barra la tapa y ábrala',
    'look only': 'Solo mire. Deje todo en su lugar',
    'estimate bait left': 'Estime cuánto cebo queda',
    'put the bait back': 'Vuelva a poner el cebo',
    'insert bait without pulling the base monitor': 'Ponga cebo; el monitor de base se queda donde está',
    'add bait without pulling the base monitor': 'Agregue cebo; el monitor de base se queda donde está',
    'renew bait': 'Renueve el cebo',
    'lift the bait and set it aside': 'Saque el cebo y póngalo aparte',
    'withdraw bait': 'Retire el cebo',
    'lift the top monitor': 'Saque el monitor superior',
    'lift the base monitor, every piece of it': 'Saque el monitor de base, con todos sus pedazos',
    'clear debris from the housing': 'Limpie la carcasa por dentro',
    'fit a new base monitor': 'Ponga un monitor de base nuevo',
    'fit a new top monitor': 'Ponga un monitor superior nuevo',
    'put the monitor back': 'Vuelva a poner el monitor',
    'bail out water': 'Saque el agua',
    'clear soil': 'Quite la tierra',
    'firm the housing': 'Afirme la carcasa en el suelo',
    'fit a new cap': 'Ponga una tapa nueva',
    'dig out and set a new housing': 'Saque la carcasa del suelo y ponga una nueva',
    'leave the housing as it is until the termites have gone':
      'Deje la carcasa como está hasta que las termitas se hayan ido',
    'mark the housing for replacement when feeding has ended':
      'Marque la carcasa para reemplazarla cuando dejen de comer',
    'ask for auxiliary stations': 'Pida estaciones auxiliares a su lado',
    'record signs': 'Anote las señales',
    'close and lock the cap': 'Cierre la tapa con seguro',
  },
  cautions: {
    'leave feeding alone':
      'Las termitas están comiendo el cebo. Deje todo en la estación como está, o pueden abandonarlo.',
    'leave the base monitor':
      'Hay termitas en el monitor. No saque ni gire el monitor de base, o pueden abandonar la estación.',
    'stinging insects':
      'Insectos que pican bajo la tapa. No meta las manos y aléjese hasta que se hayan ido. Si es alérgico a las picaduras, no siga.',
    ants: 'Las hormigas bajo la tapa pueden ser hormigas de fuego. No meta las manos hasta saberlo, y quítelas con una herramienta.',
    'spiders or snakes': 'Arañas o serpientes bajo la tapa. No meta las manos y use una herramienta larga.',
    'other occupants': 'Un animal vive en la estación. No meta las manos hasta saber qué es.',
    'no spray at termites':
      'No rocíe nada en una estación con termitas vivas ni cerca de ella: puede alejarlas del cebo.',
    'locate buried utilities':
      'Haga localizar los servicios enterrados antes de excavar (llame al 811 en Estados Unidos) y espere las marcas.',
    'clean-out tool':
      'Sostenga el taladro con las dos manos. Use protección para los ojos, y nada de ropa suelta ni guantes que se puedan enredar; la madera puede esconder clavos o piedras.',
    'handle bait by the label':
      'Lea la etiqueta que tiene en la mano. Use los guantes que pide, y que el cebo lo ponga un aplicador con licencia donde la ley lo dice.',
    'bait out of reach':
      'Mantenga el cebo fuera del alcance de niños y animales, en la camioneta y en el suelo; cierre la tapa con seguro.',
  },
  tell: {
    'no termites': 'No hallamos termitas en esta estación.',
    'signs only':
      'En esta estación hallamos señales viejas de termitas (barro o galerías), pero hoy ninguna viva.',
    'termites found':
      'Hallamos termitas vivas en esta estación. Para eso está la estación: las atrapó a tiempo.',
    feeding: 'Las termitas están comiendo el cebo en esta estación. Así es como trabaja el cebo.',
    'feeding ended': 'La última vez había termitas comiendo aquí; hoy no hay ninguna en esta estación.',
    'station clear': 'Esta estación lleva ya tantas revisiones seguidas sin termitas como pide la etiqueta.',
    'could not open':
      'Hoy no pudimos abrir esta estación, así que no cuenta como revisada. Volveremos por ella.',
    'replacement asked':
      'No pudimos abrir esta estación demasiadas veces seguidas, y pedimos a la oficina que la reemplace.',
    'service carried over':
      'El servicio anual de esta estación espera, porque hay termitas en ella y no se les debe molestar. Se le sigue debiendo.',
    'service owed':
      'El servicio anual de esta estación se aplazó mientras tenía termitas. Se le sigue debiendo, y volveremos para hacerlo.',
    'service done': 'Hicimos el servicio anual de esta estación.',
    'bait put in': 'Pusimos cebo en esta estación.',
    'bait added': 'Agregamos cebo, porque quedaba poco.',
    'bait renewed': 'Pusimos cebo fresco en esta estación.',
    'bait withdrawn': 'Retiramos el cebo; la estación vuelve a vigilar.',
    'bait not possible':
      'Hoy no se pudo poner cebo sin molestar a las termitas. Nuestra oficina verá qué sigue.',
    'monitor renewed': 'Pusimos monitores nuevos.',
    'station repaired': 'Reparamos esta estación.',
    'station replaced': 'Pusimos una estación nueva en lugar de esta.',
    'repair later': 'Esta estación necesita una reparación, que espera a que se vayan las termitas.',
    'auxiliary stations': 'Pedimos a nuestra oficina que ponga más estaciones junto a esta.',
  },
  reason: (table, row, reads) => reasons[table]?.[row] ?? reads,
  history: {
    installed: 'Instalada.',
    moved: (why) => `Movida: ${why}`,
    tagged: (tag) => `Placa ${tag}.`,
    replaced: (why) => `Carcasa reemplazada: ${why}`,
    removed: (why) => `Retirada: ${why}`,
    unknown: (kind) => `Un registro de un tipo más nuevo: ${kind}.`,
    termites: {
      none: 'sin termitas',
      'signs only': 'solo señales',
      'live on monitor': 'termitas vivas en un monitor',
      'live on bait': 'termitas vivas en el cebo',
    },
    bait: (left) => `cebo que queda: ${left.toLowerCase()}`,
    monitor: (condition) => `monitor: ${condition.toLowerCase()}`,
    serviced: 'servicio anual hecho',
    baitIn: 'cebo puesto',
  },
  next: {
    check: 'Sigue: una revisión',
    'baited check': 'Sigue: una revisión más pronto, por el cebo o la actividad',
    'missed station': 'Sigue: volver para abrirla',
    replacement: 'Sigue: un reemplazo',
  },
};
