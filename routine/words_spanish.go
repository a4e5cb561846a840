package routine

// spanish is the Spanish of dancing schools.
var spanish = tongue{
	language: "Spanish",
	source:   "from memory",
	feet: synonyms{
		"LF": {"pie izquierdo", "PI", "pie izq"}, "RF": {"pie derecho", "PD", "pie dcho"},
		"L": {"izquierda", "izquierdo", "izq", "sentido antihorario"}, "R": {"derecha", "derecho", "dcha", "sentido horario"},
	},
	steps: synonyms{
		"–":       {"espera", "esperar", "quieto", "quieta", "pausa"},
		"forward": {"adelante", "delante", "hacia adelante", "avanza"}, "back": {"atrás", "hacia atrás", "retrocede"}, "side": {"lado", "al lado", "lateral", "costado", "al costado"},
		"diagonally forward": {"diagonal adelante", "en diagonal adelante"}, "diagonally back": {"diagonal atrás", "en diagonal atrás"},
		"close": {"cierra", "junta", "juntos", "junto a"}, "half close": {"medio cierre", "casi cierra"},
		"cross in front": {"cruza delante", "cruzado delante", "cruza por delante"}, "cross behind": {"cruza detrás", "cruzado detrás", "cruza por detrás"},
		"replace": {"recupera", "repone", "recupera el peso", "reemplaza"}, "in place": {"en el sitio", "en el lugar", "en sitio"},
		"small": {"pequeño", "corto"}, "large": {"grande", "largo"}, "slightly": {"ligeramente", "un poco"},
		"no weight": {"sin peso"}, "part weight": {"medio peso", "peso parcial"}, "weight on both feet": {"peso en los dos pies", "peso en ambos pies"},
		"heel": {"tacón"}, "toe": {"punta"}, "ball": {"planta"}, "whole foot": {"pie entero"},
		"tap": {"toca"}, "point": {"señala"}, "kick": {"patada"}, "rock": {"balanceo"}, "under the arm": {"bajo el brazo", "por debajo del brazo"}, "swivel": {"pivota"},
	},
	amounts: synonyms{"1/8": {"octavo", "un octavo"}, "1/4": {"cuarto", "un cuarto"}, "3/8": {"tres octavos"}, "1/2": {"medio", "media", "media vuelta"}, "5/8": {"cinco octavos"}, "3/4": {"tres cuartos"}, "7/8": {"siete octavos"}, "1": {"una vuelta", "vuelta completa"}},
	turning: []string{"giro", "gira", "girando", "vuelta"},
	toward:  []string{"a", "hacia", "la", "el", "de"},
	degree:  []string{"grados", "grado"},
	then:    []string{"luego", "después"},
	after:   []string{"después"},
	through: []string{"a", "o", "hasta"},
	joining: []string{"y", "con", "en", "paso", "posición"},
	faces: synonyms{
		"facing": {"de cara a", "mirando a", "mirando", "frente a"}, "backing": {"de espaldas a", "espalda a"},
		"LOD": {"línea de baile"}, "DW": {"diagonal a pared", "diagonal a la pared"}, "wall": {"pared"}, "against LOD": {"contra línea de baile"}, "centre": {"centro", "al centro"}, "DC": {"diagonal a centro", "diagonal al centro"},
	},
	holds: synonyms{
		"closed": {"cerrada", "posición cerrada"}, "open facing": {"abierta", "posición abierta", "cara a cara"}, "promenade": {"promenada", "paseo"}, "counter promenade": {"contrapromenada"}, "fan": {"abanico"},
		"apart": {"separados"}, "back to back": {"espalda con espalda"}, "both hands": {"dos manos", "ambas manos", "las dos manos"}, "hands right to right": {"mano derecha con derecha"}, "crossed hands": {"manos cruzadas"}, "no hands": {"sin manos"},
	},
	counts: synonyms{
		"&": {"y"}, "S": {"lento"}, "Q": {"rápido"},
		"1": {"uno"}, "2": {"dos"}, "3": {"tres"}, "4": {"cuatro"}, "5": {"cinco"}, "6": {"seis"}, "7": {"siete"}, "8": {"ocho"},
	},
	aloud: [len(aloud)]string{"uno", "dos", "tres", "cuatro", "cinco", "seis", "siete", "ocho", "nueve", "diez", "once", "doce", "lento", "rápido", "y"},
	columns: synonyms{
		"Count": {"Tiempo", "Tiempos", "Cuenta", "Conteo", "Ritmo", "Compás"}, "Leader": {"Hombre", "Hombres", "Caballero", "Caballeros", "Chico", "Líder", "Él"},
		"Follower": {"Mujer", "Mujeres", "Dama", "Damas", "Señora", "Chica", "Seguidora", "Ella"}, "Step": {"Paso", "Número", "Núm"}, "Note": {"Nota", "Notas", "Observaciones"},
		"Alignment": {"Alineación", "Alineamiento"}, "Turn": {"Giro", "Cantidad de giro"}, "Rise": {"Elevación", "Elevación y descenso"}, "Footwork": {"Trabajo de pie", "Trabajo de pies"}, "Sway": {"Inclinación"}, "Position": {"Posición"},
	},
	facts:    synonyms{"starts": {"inicio", "empieza", "comienza", "posición inicial"}, "ends": {"final", "termina", "acaba", "posición final"}, "level": {"nivel"}, "source": {"fuente"}, "also called": {"también llamado", "otro nombre"}, "parts": {"partes"}, "family": {"familia", "estilo"}},
	settings: synonyms{"count language": {"idioma del conteo"}, "dance": {"Baile"}, "title": {"Título", "Nombre"}, "count": {"Conteo"}, "lead-in": {"Conteo previo", "Cuenta previa"}, "floor": {"Pista", "Sala"}, "music": {"Música"}, "phrases": {"Frases"}, "teacher": {"Profesor", "Profesora"}, "class": {"Clase"}, "date": {"Fecha"}},
	sections: synonyms{"order": {"Orden", "Secuencia", "Coreografía"}},
	dances:   synonyms{"waltz": {"vals lento", "vals inglés"}, "Viennese waltz": {"vals vienés"}, "Argentine tango": {"tango argentino"}, "paso doble": {"pasodoble"}, "cha-cha": {"chachachá", "cha cha chá"}},
}
