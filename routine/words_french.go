package routine

// french is the French of dancing schools.
var french = tongue{
	language: "French",
	source:   "from memory",
	feet: synonyms{
		"LF": {"pied gauche", "PG", "pied g"}, "RF": {"pied droit", "PD", "pied d"},
		"L": {"gauche", "sens antihoraire", "sens inverse des aiguilles"}, "R": {"droite", "droit", "sens horaire"},
	},
	steps: synonyms{
		"–":       {"attend", "attendre", "immobile", "sur place sans bouger"},
		"forward": {"avant", "en avant", "devant soi", "avance"}, "back": {"arrière", "en arrière", "recule"}, "side": {"côté", "de côté", "latéral", "sur le côté"},
		"diagonally forward": {"diagonale avant", "en diagonale avant"}, "diagonally back": {"diagonale arrière", "en diagonale arrière"},
		"close": {"assemble", "ferme", "rassemble", "joint", "à côté de", "pieds joints"}, "half close": {"ferme à demi"},
		"cross in front": {"croise devant", "croisé devant"}, "cross behind": {"croise derrière", "croisé derrière"},
		"replace": {"remet le poids", "reprend le poids", "remplace", "reprend"}, "in place": {"sur place"},
		"small": {"petit", "petit pas"}, "large": {"grand", "grand pas"}, "slightly": {"légèrement", "un peu"},
		"no weight": {"sans poids"}, "part weight": {"demi-poids", "poids partiel"}, "weight on both feet": {"poids sur les deux pieds", "les deux pieds"},
		"heel": {"talon"}, "toe": {"pointe"}, "ball": {"plante"}, "flat": {"à plat"}, "whole foot": {"pied entier"},
		"tap": {"touche", "tape"}, "point": {"pointé"}, "swivel": {"pivote"}, "under the arm": {"sous le bras"}, "spin": {"tourne sur place"},
	},
	amounts: synonyms{"1/8": {"huitième", "un huitième"}, "1/4": {"quart", "un quart"}, "3/8": {"trois huitièmes"}, "1/2": {"demi", "un demi", "demi-tour"}, "5/8": {"cinq huitièmes"}, "3/4": {"trois quarts"}, "7/8": {"sept huitièmes"}, "1": {"un tour", "tour complet"}},
	turning: []string{"tour", "tourne", "tournant", "rotation"},
	toward:  []string{"à", "vers", "la", "le", "de", "du", "sur"},
	degree:  []string{"degrés", "degré"},
	then:    []string{"puis", "ensuite"},
	after:   []string{"après", "ensuite"},
	through: []string{"à", "ou"},
	joining: []string{"et", "avec", "en", "pas", "pied"},
	faces: synonyms{
		"facing": {"face à", "face", "de face"}, "backing": {"dos à", "dos"},
		"LOD": {"ligne de danse", "LDD"}, "DW": {"diagonale mur"}, "wall": {"mur", "au mur"}, "against LOD": {"contre ligne de danse", "sens contraire"}, "centre": {"au centre"}, "DC": {"diagonale centre"},
	},
	holds: synonyms{
		"closed": {"fermée", "position fermée"}, "open facing": {"ouverte", "position ouverte", "face à face"}, "fan": {"éventail"}, "counter promenade": {"contre-promenade", "contre promenade"},
		"outside partner": {"extérieur partenaire", "à l'extérieur du partenaire"}, "apart": {"séparés", "séparé"}, "back to back": {"dos à dos"},
		"both hands": {"deux mains", "les deux mains"}, "hands left to right": {"main gauche main droite"}, "hands right to right": {"main droite main droite"}, "crossed hands": {"mains croisées"}, "no hands": {"sans mains"},
	},
	counts: synonyms{
		"&": {"et"}, "S": {"lent"}, "Q": {"vite", "rapide"},
		"1": {"un"}, "2": {"deux"}, "3": {"trois"}, "4": {"quatre"}, "5": {"cinq"}, "7": {"sept"}, "8": {"huit"},
	},
	aloud: [len(aloud)]string{"un", "deux", "trois", "quatre", "cinq", "six", "sept", "huit", "neuf", "dix", "onze", "douze", "lent", "vite", "et"},
	columns: synonyms{
		"Count": {"Compte", "Comptes", "Temps", "Rythme"}, "Leader": {"Homme", "Hommes", "Cavalier", "Danseur", "Guide", "Monsieur", "Lui"},
		"Follower": {"Femme", "Femmes", "Cavalière", "Danseuse", "Guidée", "Madame", "Elle"}, "Step": {"Pas", "Numéro", "N°"}, "Note": {"Remarque", "Remarques"},
		"Alignment": {"Orientation", "Alignement"}, "Turn": {"Tour", "Rotation", "Quantité de rotation"}, "Rise": {"Élévation", "Élévation et abaissement"}, "Footwork": {"Travail du pied", "Travail de pied"}, "Sway": {"Inclinaison"},
	},
	facts:    synonyms{"starts": {"départ", "début", "commence", "position de départ"}, "ends": {"fin", "finit", "termine", "position finale"}, "level": {"niveau"}, "also called": {"aussi appelé", "autre nom"}, "parts": {"parties"}, "begun": {"commencé"}, "family": {"famille"}},
	settings: synonyms{"count language": {"langue du comptage"}, "dance": {"Danse"}, "title": {"Titre", "Nom"}, "count": {"Comptage"}, "lead-in": {"Décompte"}, "floor": {"Piste", "Salle"}, "music": {"Musique"}, "teacher": {"Professeur", "Professeure"}, "class": {"Cours"}},
	sections: synonyms{"order": {"Ordre", "Enchaînement", "Chorégraphie", "Déroulement"}},
	dances:   synonyms{"waltz": {"valse lente", "valse anglaise"}, "Viennese waltz": {"valse viennoise"}, "foxtrot": {"slow fox", "slow-fox"}, "Argentine tango": {"tango argentin"}, "cha-cha": {"tcha-tcha-tcha", "tcha tcha tcha"}},
}
