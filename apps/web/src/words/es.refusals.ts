import type { refusals as english } from './en.refusals.ts';

export const refusals: typeof english = {
  isServers: false,
  said: (sentence) => `El servidor dice, en inglés: ${sentence}`,
  problems: {
    'not signed in': ['No ha entrado', 'Entre e intente otra vez.'],
    'sign-in refused': [
      'El correo o la contraseña no es correcto',
      'Revise los dos; pida al dueño o a un encargado una contraseña nueva de un solo uso.',
    ],
    'code refused': [
      'El código no es correcto o ya no vale',
      'Escriba el código que la aplicación de autenticación muestra ahora, o use un código de respaldo.',
    ],
    'password must be changed': [
      'Primero hay que cambiar la contraseña de un solo uso',
      'Elija una contraseña propia y siga.',
    ],
    'not allowed': [
      'Su puesto no permite esto',
      'Pida ayuda a alguien cuyo puesto lo permita, o pida al dueño que cambie el suyo.',
    ],
    'other origin': [
      'Lo pedido vino de otra dirección que la del servidor',
      'Abra esta página en la dirección del propio servidor. Quien lo lleva puede fijar su dirección pública.',
    ],
    'not found': ['Eso no existe aquí', 'Puede que se haya quitado: cargue la página de nuevo.'],
    'already set up': ['Este servidor ya tiene dueño', 'Entre, o pida al dueño que lo agregue.'],
    'set-up token wrong': [
      'La clave de instalación falta o no es correcta',
      'Copie la clave que el servidor escribió en su registro al arrancar; cambia con cada arranque.',
    ],
    'e-mail in use': [
      'Esta dirección de correo ya pertenece a una cuenta',
      'Use otra dirección, o traiga de vuelta a la persona que ya existe.',
    ],
    'last owner': ['Una empresa necesita al menos un dueño', 'Antes haga dueño a otra persona.'],
    'password too weak': [
      'La contraseña es demasiado corta, larga o común',
      'Elija entre 12 y 128 caracteres; tres o cuatro palabras sin relación sirven bien.',
    ],
    malformed: ['Lo enviado no se puede leer', 'Corrija los lugares que se nombran e intente otra vez.'],
    'wrong media type': [
      'Aquí no se acepta esa clase de archivo',
      'Elija un archivo de la clase que se pide.',
    ],
    'too large': ['Es demasiado grande', 'Envíelo en partes más pequeñas.'],
    'too many requests': ['Se pidió demasiado a la vez', 'Espere un poco e intente otra vez.'],
    'import refused': [
      'El archivo no se importó; nada cambió',
      'Corrija en el archivo los lugares que se nombran y revíselo de nuevo.',
    ],
    'import leaned on': [
      'Hay entradas posteriores que se apoyan en lo importado',
      'Mire lo que se nombra. Retire antes esas entradas, o deshaga la importación de todos modos y déjelas sin su lugar.',
    ],
    'import holds applications': [
      'Se aplicó pesticida en lo que trajo la importación',
      'Su registro debe conservar el lugar que nombra: corrija entradas sueltas.',
    ],
    'no room for photos': [
      'La empresa ya no tiene espacio para fotos',
      'Los teléfonos guardan sus fotos. Quien lleva el servidor puede dar más espacio; entonces salen solas.',
    ],
    'photo refused': ['No se aceptó la foto', 'Tómela de nuevo, como imagen JPEG, PNG o WebP.'],
    'no label profile': [
      'La propiedad no tiene perfil de etiqueta',
      'Escriba antes los números de la etiqueta en uso como perfil de la empresa.',
    ],
    'too many links': ['Hay demasiadas direcciones secretas aquí', 'Retire las que ya nadie necesita.'],
    'mail not set up': [
      'Este servidor todavía no envía correo',
      'Quien lleva el servidor puede prepararlo; la vista previa funciona sin ello.',
    ],
    'no address': [
      'No hay dirección de correo a la que enviar',
      'Escriba una, o registre la dirección de correo del cliente.',
    ],
    'message has gone': [
      'El mensaje ya pasó de eso',
      'Cargue la lista de nuevo; solo se cancela un mensaje que espera, y uno enviado no se envía dos veces.',
    ],
    'paper cannot be written': [
      'Lo que el papel necesita no está registrado',
      'Registre antes lo que se nombra.',
    ],
    'papers busy': ['Se están dibujando demasiados papeles', 'Espere un poco y pídalo de nuevo.'],
    'plan running': [
      'La sucursal ya se está planificando',
      'Espere el plan que se está haciendo, o deténgalo antes.',
    ],
    'plan not ready': [
      'El plan todavía no tiene rutas',
      'Espere a que termine; si falló, planifique de nuevo.',
    ],
    'plan changed': ['Otra persona cambió el plan entretanto', 'Mírelo otra vez y repita lo que hizo.'],
    'plan outdated': [
      'Desde que empezó este plan se enviaron otras rutas',
      'Planifique de nuevo: el plan nuevo parte de lo enviado y mueve lo menos posible.',
    ],
    'move refused': [
      'La visita no se puede poner ahí',
      'Elija un técnico que maneje ese día, y un día dentro del plan.',
    ],
    'too much for one answer': [
      'Es más de lo que cabe en una respuesta',
      'Pida una sola propiedad o un periodo más corto.',
    ],
    'not ready': ['El servidor no puede trabajar en este momento', 'Intente otra vez en unos segundos.'],
    internal: [
      'El servidor falló',
      'Intente otra vez; si vuelve a pasar, diga a quien lleva el servidor cuándo fue.',
    ],
  },
  records: {
    malformed: 'El registro no se puede leer como está.',
    'other firm': 'El registro pertenece a otra empresa que la que ha entrado.',
    'id reused with other content': 'Ahí hay otro registro con el mismo identificador.',
    'legal field missing': 'Al registro de uso de pesticida le falta lo que pide la ley.',
    'not allowed': 'Su puesto, o su sucursal, no permite registrar esto aquí.',
  },
};
