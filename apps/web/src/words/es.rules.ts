/**
 * Each row of the rule tables as a sentence to be read aloud: table id, then row id.
 * English stands in the tables themselves; test/field/words.test.ts asks that none is missing and none is left over.
 */
export const reasons: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  reach: {
    opened: 'La estación se abrió: primero barra la tapa, y al final ciérrela con seguro.',
    missed:
      'La estación no se pudo abrir: anote por qué con una foto y avise a la oficina. No cuenta como revisada y queda pendiente.',
    'missed too often':
      'La estación no se pudo abrir tantas veces seguidas como permite el perfil: anote por qué con una foto, avise a la oficina y pida un reemplazo.',
  },
  finding: {
    'not opened': 'Nadie abrió la estación: cuenta como no vista, sin importar qué más se haya escrito.',
    'live on bait':
      'Termitas vivas en el cebo: hay actividad y están comiendo. Solo mire, y estime a ojo el cebo que queda.',
    'live in a station without monitors':
      'Se anotaron termitas vivas en un monitor, pero este modelo no tiene ninguno: solo pueden estar en el cebo, así que están comiendo.',
    'live on monitor': 'Termitas vivas en un monitor: hay actividad.',
    'signs only':
      'Barro, galerías o daño sin ninguna termita viva: anote las señales. No cuenta como actividad ni como que están comiendo.',
    none: 'Sin termitas y sin señales de ellas.',
  },
  disturb: {
    'not opened': 'Nadie abrió la estación, así que no se mueve nada.',
    feeding:
      'Las termitas están comiendo: no mueva nada de lo que hay en la estación. Nunca saque un monitor, nunca limpie, nunca excave.',
    hit: 'Hay termitas en el monitor: el monitor de base se queda donde está, y no se limpia ni se excava nada.',
    'no live termites': 'Hoy no hay termitas vivas: todo lo de la estación se puede mover.',
  },
  'tell-customer': {
    'not opened': 'Nadie abrió la estación, así que no se dice nada de termitas.',
    feeding: 'Diga que las termitas están comiendo el cebo, y que así es como trabaja el cebo.',
    hit: 'Diga que se hallaron termitas vivas.',
    signs: 'Diga que había señales pero ninguna termita viva.',
    'signs, clear':
      'Diga que había señales viejas pero ninguna termita viva, y que la estación está sin actividad, con su prueba.',
    'feeding ended, signs':
      'Diga que ya terminaron de comer, como se veía la última vez, y que quedan las señales.',
    none: 'Diga que no se hallaron termitas.',
    clear:
      'Diga que no se hallaron termitas y que la estación está sin actividad, con su prueba; nunca que una colonia desapareció.',
    'feeding ended': 'Diga que ya terminaron de comer, como se veía la última vez.',
    'feeding ended, clear':
      'Diga que ya terminaron de comer y que la estación está sin actividad según la prueba del perfil.',
  },
  'yearly-service': {
    'not opened': 'Nadie abrió la estación: lo que se debía sigue pendiente.',
    'do it':
      'Se pide el servicio anual y no hay termitas vivas en la estación: hágalo, también donde antes quedó pendiente.',
    'carry it over':
      'Se pide el servicio anual, pero hay termitas vivas en la estación: déjelo pendiente. Se sigue debiendo.',
    'say that it is owed':
      'Una revisión, sin termitas vivas, y un servicio anual que quedó pendiente: ya se puede hacer, así que avise a la oficina para planearlo. No se hace en una revisión, para la que no se cargó ni tiempo ni piezas.',
    'still waiting':
      'Una revisión, y las termitas siguen ahí: el servicio anual que quedó pendiente sigue esperando.',
    'not asked for': 'Solo una revisión: no se pide servicio anual.',
  },
  occupants: {
    'not opened': 'Nadie abrió la estación.',
    none: 'Nadie más vive en la estación.',
    ants: 'Hormigas: no meta la mano hasta saber que no son hormigas de fuego, y muévalas con una herramienta.',
    'stinging insects':
      'Insectos que pican: no meta las manos. Lo demás espera hasta que se vayan; si hoy no se van, anote la estación como bloqueada y diga por qué.',
    'spiders or snakes':
      'Arañas o serpientes: no meta las manos y muévalas con una herramienta larga, o espere a que se vayan.',
    other: 'Otra cosa vive aquí: deje que se vaya, o muévala sin hacerle daño.',
    'ants with termites': 'Hormigas y termitas vivas: primero las termitas. No mueva nada y no rocíe nada.',
    'stinging insects with termites':
      'Insectos que pican y termitas vivas: primero las termitas. Mire desde lejos, no rocíe nada; el cebo espera a que se vayan los insectos.',
    'spiders or snakes with termites':
      'Arañas o serpientes y termitas vivas: no meta las manos y espere a que se vayan.',
    'other with termites':
      'Otra cosa vive aquí junto a termitas vivas: espere a que se vaya, y no mueva nada.',
  },
  'dig-out': {
    'not opened': 'Nadie abrió la estación.',
    'broken with termites':
      'La carcasa está rota pero tiene termitas vivas: márquela, y reemplácela cuando se hayan ido.',
    'whole with termites': 'Hay termitas vivas en la estación: no se excava nada.',
    broken: 'La carcasa está rota y no tiene termitas vivas: sáquela y ponga una nueva.',
    'swollen at the service':
      'El monitor se hinchó y no sale, y toca el servicio anual: saque la carcasa con él y ponga una nueva.',
    'swollen at a check':
      'El monitor se hinchó, pero en una revisión no hace falta sacarlo: espera al servicio anual.',
    stays: 'La carcasa se queda en el suelo.',
  },
  housing: {
    'not opened': 'Nadie abrió la estación.',
    'dug out': 'La carcasa se saca, y la nueva trae su propia tapa.',
    sound: 'A la carcasa no le falta nada (de una rota se ocupa la tabla «excavar»).',
    'cap damaged': 'La tapa está dañada: ponga una nueva.',
    loose: 'La carcasa está suelta: apriete la tierra a su alrededor.',
    flooded: 'La carcasa tiene agua: sáquela.',
    'filled with soil': 'La carcasa se llenó de tierra: quítela.',
    'sound with termites':
      'Hay termitas vivas en la estación y a la carcasa no le falta nada ahora (una rota se marca en la tabla «excavar»).',
    'cap damaged with termites':
      'La tapa está dañada: una tapa nueva no molesta a nadie, así que póngala aunque haya termitas vivas.',
    'loose, wet or filled with termites':
      'La carcasa está suelta, o tiene agua o tierra, y hay termitas vivas: déjela como está hasta que se hayan ido.',
  },
  'bait-in-the-ledger': {
    'not opened': 'Nadie abrió la estación.',
    agrees: 'La estación tiene cebo, como dice el libro.',
    'agrees, none': 'La estación no tiene cebo, como dice el libro.',
    'not recorded':
      'Hay cebo en la estación y el libro no sabe de ninguno: vale lo que se vio, y avise a la oficina, porque falta un registro de aplicación.',
    missing:
      'El libro dice que hay cebo en la estación y no se halló: cuenta como acabado. Avise a la oficina, porque cebo fuera de su lugar es un peligro.',
  },
  'bait-with-termites': {
    'no live termites': 'No se vieron termitas vivas.',
    'feeding, enough left': 'Están comiendo y queda más cebo que el límite: no agregue nada, déjelo.',
    'feeding, little left':
      'Están comiendo y el cebo llegó al límite o menos: agregue cebo en su propio lugar, sin sacar el monitor de base.',
    'feeding, little left, no way in':
      'Están comiendo y queda poco cebo, pero en este modelo el cebo solo va donde están ellas: déjelo y avise a la oficina.',
    'hit, no bait yet':
      'Actividad y la estación no tiene cebo: ponga cebo en su propio lugar (en una estación de dos partes, el del monitor superior), sin sacar el monitor de base.',
    'hit, enough bait': 'Actividad y la estación ya tiene suficiente cebo: no agregue.',
    'hit, little bait':
      'Actividad y el cebo llegó al límite o menos: agregue cebo en su propio lugar, sin sacar el monitor de base.',
    'hit, no way in':
      'Actividad, pero en este modelo el cebo solo va en lugar del monitor de base: deje el monitor en su lugar y avise a la oficina.',
  },
  'bait-without-termites': {
    'not opened or termites': 'Nadie abrió la estación, o hay termitas vivas en ella.',
    'no bait': 'La estación no tiene cebo y no lo necesita.',
    'always baited, enough': 'Este modelo solo lleva cebo, y queda suficiente: se queda.',
    'always baited, renewed': 'El perfil dice que el cebo sin termitas se renueva.',
    'always baited, little': 'Este modelo solo lleva cebo, y queda poco o nada: renuévelo.',
    'clear, withdrawn':
      'La estación está sin actividad y el perfil retira entonces el cebo: sáquelo y vuelva a la vigilancia, con un monitor superior nuevo en una estación de dos partes.',
    'clear, stays': 'La estación está sin actividad y el perfil deja entonces el cebo.',
    'clear, gone':
      'La estación está sin actividad y ya no le queda cebo: saque lo que queda del inserto y vuelva a la vigilancia.',
    'idle, stays': 'Hoy no hay termitas, todavía no está sin actividad, y el perfil deja el cebo.',
    'idle, gone':
      'El perfil mantiene cebo en una estación que todavía no está sin actividad, y no queda nada: renuévelo.',
    'idle, renewed': 'Hoy no hay termitas, todavía no está sin actividad, y el perfil renueva el cebo.',
    'idle, withdrawn':
      'Hoy no hay termitas y el perfil retira entonces el cebo: sáquelo y vuelva a la vigilancia, con un monitor superior nuevo en una estación de dos partes.',
  },
  monitor: {
    'not opened': 'Nadie abrió la estación.',
    'live termites':
      'Hay termitas vivas en la estación: no se saca ni se renueva ningún monitor, esté como esté.',
    'no monitors': 'Este modelo no lleva monitores.',
    'new housing': 'Se pone una carcasa nueva: ponga monitores nuevos en ella.',
    'yearly service':
      'El servicio anual: saque el monitor superior, saque el monitor de base con todos sus pedazos, y ponga nuevos.',
    'none fitted': 'No hay ningún monitor puesto: ponga nuevos.',
    spent:
      'Un monitor está comido o podrido, o falta, y no hay termitas vivas: renueve los monitores también en una revisión.',
    swollen:
      'El monitor se hinchó y su carcasa se queda: no lo fuerce. En el servicio anual se saca con su carcasa.',
    'signs, renewed': 'Solo señales, y el perfil renueva un monitor con señales.',
    'signs, kept': 'Solo señales, y el perfil conserva un monitor con señales: vuelva a ponerlo.',
    sound: 'No se halló nada y el monitor está bien: vuelva a ponerlo.',
  },
  'clean-out': {
    'not opened': 'Nadie abrió la estación.',
    'live termites': 'Hay termitas vivas en la estación: nunca la limpie por dentro.',
    'new housing': 'Se pone una carcasa nueva, y no hay nada que limpiar.',
    'yearly service': 'El servicio anual: limpie la carcasa por dentro antes de poner los monitores nuevos.',
    check: 'En una revisión no se limpia por dentro.',
  },
  'bait-aside': {
    'not opened or termites':
      'Nadie abrió la estación, o hay termitas vivas en ella: no se saca ningún cebo.',
    'no bait to save': 'En la estación no se queda ningún cebo.',
    'bait in the way':
      'Se trabaja por dentro y el cebo se queda: primero póngalo aparte y después vuelva a ponerlo.',
    untouched: 'Debajo del cebo no se trabaja: se queda donde está.',
  },
  'auxiliary-stations': {
    'no hit': 'No se vieron termitas vivas: no hacen falta más estaciones.',
    'not in the profile': 'Termitas vivas, pero el perfil no pide estaciones junto a una estación activa.',
    'asked before': 'La actividad ya se conocía: las estaciones a su lado se pidieron entonces.',
    'auxiliary itself': 'Esta estación se puso junto a una estación activa: no se piden más a su lado.',
    'new hit': 'Actividad nueva, y el perfil pide estaciones a su lado: pídalas a la oficina.',
  },
  'next-interval': {
    missed: 'No se abrió: vuelva dentro del plazo para estaciones que no se pudieron abrir.',
    replacement: 'No se abrió demasiadas veces seguidas: se debe un reemplazo.',
    'live termites':
      'Termitas vivas: la próxima revisión llega con el plazo más corto, el de estaciones con cebo.',
    'bait in place': 'Sin termitas vivas, pero la estación tiene cebo: el plazo de estaciones con cebo.',
    'hit not clear':
      'Sin cebo y sin termitas vivas, pero todavía no está sin actividad: el plazo de estaciones con cebo.',
    monitoring: 'En vigilancia: el plazo usual de revisión.',
  },
  'next-look': {
    'replace it':
      'No se abrió en demasiadas visitas seguidas: se debe una estación nueva, dentro del plazo para estaciones que no se pudieron abrir.',
    missed: 'No se abrió en la última visita: se debe desde ese día.',
    'baited or hit': 'Tiene cebo: el plazo de estaciones con cebo cuenta desde la última vez que se miró.',
    'hit not clear':
      'Tuvo actividad y todavía no está sin actividad: el plazo de estaciones con cebo cuenta desde la última vez que se miró.',
    monitoring: 'En vigilancia: el plazo de revisión cuenta desde la última vez que se miró.',
    'first look': 'No se ha abierto desde que se puso: la primera revisión cuenta desde la instalación.',
  },
  'yearly-owed': {
    wait: 'Quedó pendiente, y la última vez había termitas vivas: espera, y nunca se olvida.',
    'feeding has ended':
      'Quedó pendiente, y la última vez que se miró no había termitas vivas: se debe desde ese día.',
    'would disturb':
      'Su plazo cuenta desde su propio último servicio anual; lo que se halle ese día decide si se puede hacer.',
    'own window': 'Su plazo cuenta desde su propio último servicio anual, o desde la instalación.',
  },
};
