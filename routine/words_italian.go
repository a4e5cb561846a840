package routine

// italian is the Italian of dancing schools. "E" stays the count after a beat, as charts use it, and is
// not read as "and".
var italian = tongue{
	language: "Italian",
	source:   "from memory",
	feet: synonyms{
		"LF": {"piede sinistro", "PS", "piede sx", "piede sin"}, "RF": {"piede destro", "PD", "piede dx"},
		"L": {"sinistra", "sinistro", "sx", "senso antiorario"}, "R": {"destra", "destro", "dx", "senso orario"},
	},
	steps: synonyms{
		"–":       {"fermo", "ferma", "aspetta", "attende", "pausa"},
		"forward": {"avanti", "in avanti"}, "back": {"indietro", "all'indietro", "dietro"}, "side": {"lato", "di lato", "a lato", "laterale", "di fianco"},
		"diagonally forward": {"diagonale avanti", "in diagonale avanti"}, "diagonally back": {"diagonale indietro", "in diagonale indietro"},
		"close": {"chiude", "unisce", "chiudi", "accanto a", "vicino a"}, "half close": {"chiude a metà"},
		"cross in front": {"incrocia davanti", "incrociato davanti"}, "cross behind": {"incrocia dietro", "incrociato dietro"},
		"replace": {"recupera", "riporta il peso"}, "in place": {"sul posto"},
		"small": {"piccolo", "corto"}, "large": {"grande", "lungo"}, "slightly": {"leggermente", "un po'"},
		"no weight": {"senza peso"}, "part weight": {"mezzo peso", "peso parziale"}, "weight on both feet": {"peso su entrambi i piedi"},
		"heel": {"tacco"}, "toe": {"punta"}, "ball": {"pianta", "avampiede"}, "whole foot": {"piede intero"},
		"tap": {"tocca"}, "kick": {"calcio"}, "rock": {"dondolo"}, "under the arm": {"sotto il braccio"},
	},
	amounts: synonyms{"1/8": {"ottavo", "un ottavo"}, "1/4": {"quarto", "un quarto"}, "3/8": {"tre ottavi"}, "1/2": {"mezzo", "mezza", "mezzo giro"}, "5/8": {"cinque ottavi"}, "3/4": {"tre quarti"}, "7/8": {"sette ottavi"}, "1": {"un giro", "giro completo"}},
	turning: []string{"giro", "gira", "girando", "rotazione"},
	toward:  []string{"a", "verso", "la", "il", "di", "al"},
	degree:  []string{"gradi", "grado"},
	then:    []string{"poi", "quindi"},
	after:   []string{"dopo"},
	through: []string{"a", "o"},
	joining: []string{"e", "ed", "con", "in", "passo", "posizione", "su", "sul"},
	faces: synonyms{
		"facing": {"di fronte a", "fronte a", "fronte"}, "backing": {"di spalle a", "spalle a", "spalle"},
		"LOD": {"linea di ballo", "LDB", "linea di danza"}, "DW": {"diagonale parete", "diagonale a parete"}, "wall": {"parete"}, "against LOD": {"contro linea di ballo"}, "centre": {"centro", "al centro"}, "DC": {"diagonale centro", "diagonale al centro"},
	},
	holds: synonyms{
		"closed": {"chiusa", "posizione chiusa"}, "open facing": {"aperta", "posizione aperta"}, "promenade": {"promenade position", "passeggiata"}, "counter promenade": {"contropromenade"}, "fan": {"ventaglio"},
		"apart": {"separati"}, "back to back": {"schiena contro schiena"}, "both hands": {"due mani", "entrambe le mani"}, "hands right to right": {"mano destra con destra"}, "crossed hands": {"mani incrociate"}, "no hands": {"senza mani"},
	},
	counts: synonyms{
		"&": {"ed"}, "S": {"lento"}, "Q": {"veloce", "rapido"},
		"1": {"uno"}, "2": {"due"}, "3": {"tre"}, "4": {"quattro"}, "5": {"cinque"}, "6": {"sei"}, "7": {"sette"}, "8": {"otto"},
	},
	aloud: [len(aloud)]string{"uno", "due", "tre", "quattro", "cinque", "sei", "sette", "otto", "nove", "dieci", "undici", "dodici", "lento", "veloce", "e"},
	columns: synonyms{
		"Count": {"Tempo", "Tempi", "Conteggio", "Conta", "Ritmo", "Battuta"}, "Leader": {"Uomo", "Uomini", "Cavaliere", "Ballerino"}, "Follower": {"Donna", "Donne", "Dama", "Ballerina", "Lei"},
		"Step": {"Passo", "Numero"}, "Note": {"Nota", "Osservazioni"}, "Alignment": {"Allineamento"}, "Turn": {"Rotazione", "Giro", "Quantità di giro"}, "Rise": {"Elevazione", "Elevazione e abbassamento", "Alzate e abbassate"},
		"Footwork": {"Lavoro dei piedi", "Lavoro di piede"}, "Sway": {"Inclinazione"}, "Position": {"Posizione", "Presa"},
	},
	facts:    synonyms{"starts": {"inizio", "inizia", "partenza", "posizione iniziale"}, "ends": {"fine", "finisce", "termina", "posizione finale"}, "level": {"livello"}, "source": {"fonte"}, "also called": {"detto anche", "detta anche"}, "parts": {"parti"}, "family": {"famiglia", "stile"}},
	settings: synonyms{"count language": {"lingua del conteggio"}, "dance": {"Ballo", "Danza"}, "title": {"Titolo", "Nome"}, "count": {"Conteggio"}, "lead-in": {"Conteggio iniziale"}, "floor": {"Pista", "Sala"}, "music": {"Musica"}, "phrases": {"Frasi"}, "teacher": {"Insegnante", "Maestro", "Maestra"}, "class": {"Corso"}, "date": {"Data"}},
	sections: synonyms{"order": {"Ordine", "Sequenza", "Coreografia"}},
	dances:   synonyms{"waltz": {"valzer lento", "valzer inglese"}, "Viennese waltz": {"valzer viennese"}, "Argentine tango": {"tango argentino"}, "cha-cha": {"cha cha cha"}},
}
