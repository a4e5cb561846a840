package routine

// german is the German of dancing schools.
var german = tongue{
	language: "German",
	source:   "from memory",
	feet: synonyms{
		"LF": {"linker Fuß", "linken Fuß", "linkem Fuß", "links Fuß"},
		"RF": {"rechter Fuß", "rechten Fuß", "rechtem Fuß", "rechts Fuß"},
		"L":  {"links", "linke", "linken", "gegen den Uhrzeigersinn"},
		"R":  {"rechts", "rechte", "rechten", "im Uhrzeigersinn"},
	},
	steps: synonyms{
		"–":       {"steht", "stehen", "warten", "wartet", "halten", "hält", "Pause", "bleibt stehen"},
		"forward": {"vor", "vorwärts", "vorw", "nach vorn", "nach vorne"}, "back": {"rück", "rückwärts", "rückw", "zurück", "nach hinten"},
		"side":               {"seit", "seitwärts", "seitw", "Seite", "zur Seite"},
		"diagonally forward": {"schräg vor", "schräg vorwärts", "diagonal vorwärts"}, "diagonally back": {"schräg rück", "schräg rückwärts", "diagonal rückwärts"},
		"close": {"schließt", "schließen", "ran", "heran", "Schluss", "zusammen", "neben"}, "half close": {"halb schließen", "halb heran"},
		"cross in front": {"kreuzt vor", "kreuzt vorn", "vorn kreuzen", "vorne kreuzen", "kreuzt vorne", "überkreuzt vorn"},
		"cross behind":   {"kreuzt hinten", "hinten kreuzen", "kreuzt hinter", "überkreuzt hinten", "hinterkreuzt"},
		"replace":        {"belasten", "Gewicht zurück", "zurückverlagern"}, "in place": {"am Platz", "am Ort", "auf der Stelle"},
		"small": {"klein", "kleiner", "kurz"}, "large": {"groß", "großer"}, "slightly": {"leicht", "etwas"},
		"no weight": {"ohne Gewicht", "unbelastet"}, "part weight": {"halbes Gewicht", "teilbelastet"}, "weight on both feet": {"auf beiden Füßen", "Gewicht auf beiden Füßen"},
		"heel": {"Ferse", "Absatz"}, "toe": {"Spitze"}, "ball": {"Ballen"}, "whole foot": {"ganzer Fuß"},
		"tap": {"tippt", "tippen"}, "kick": {"kickt"}, "brush": {"streift"}, "stamp": {"stampft"}, "rock": {"wiegen"}, "spin": {"dreht sich"}, "under the arm": {"unter dem Arm"},
	},
	amounts: synonyms{"1/8": {"Achtel", "eine Achtel"}, "1/4": {"Viertel", "eine Viertel"}, "3/8": {"drei Achtel"}, "1/2": {"halbe", "eine halbe"}, "5/8": {"fünf Achtel"}, "3/4": {"Dreiviertel", "drei Viertel"}, "7/8": {"sieben Achtel"}, "1": {"ganze", "eine ganze"}},
	turning: []string{"Drehung", "drehen", "dreht", "drehend", "Drehumfang"},
	toward:  []string{"nach", "zur", "zum", "der", "die", "den", "um"},
	degree:  []string{"Grad"},
	then:    []string{"dann", "danach"},
	after:   []string{"danach", "nachher"},
	joining: []string{"und", "mit", "auf", "am", "an", "im", "dem", "Haltung", "Schritt"},
	faces: synonyms{
		"facing": {"Blick", "Front", "blickt"}, "backing": {"Rücken"},
		"LOD": {"Tanzrichtung", "in Tanzrichtung", "TR"}, "DW": {"diagonal zur Wand", "schräg zur Wand"}, "wall": {"Wand", "zur Wand"}, "against LOD": {"gegen Tanzrichtung", "gegen die Tanzrichtung", "GTR"},
		"centre": {"Mitte", "zur Mitte"}, "DC": {"diagonal zur Mitte", "schräg zur Mitte"}, "DW against LOD": {"diagonal zur Wand gegen Tanzrichtung"}, "DC against LOD": {"diagonal zur Mitte gegen Tanzrichtung"},
	},
	holds: synonyms{
		"closed": {"geschlossen", "geschlossene", "geschlossene Haltung", "Normalhaltung", "Tanzhaltung"}, "open facing": {"offen", "offene Haltung", "gegenüber"},
		"promenade": {"Promenadenposition", "Promenadenstellung"}, "counter promenade": {"Gegenpromenade"}, "fan": {"Fächer", "Fächerposition"},
		"outside partner": {"außenseitlich", "außen"}, "apart": {"getrennt", "ohne Fassung"}, "back to back": {"Rücken an Rücken"},
		"both hands": {"beide Hände", "Doppelhandhaltung", "Zweihandfassung"}, "hands left to right": {"linke zu rechter Hand"}, "hands right to right": {"rechte zu rechter Hand", "Handschlag"},
		"crossed hands": {"gekreuzte Hände"}, "no hands": {"ohne Hände"},
	},
	counts: synonyms{
		"&": {"und"}, "S": {"langsam", "lang"}, "Q": {"schnell", "kurz"},
		"1": {"eins"}, "2": {"zwei"}, "3": {"drei"}, "4": {"vier"}, "5": {"fünf"}, "6": {"sechs"}, "7": {"sieben"}, "8": {"acht"},
	},
	columns: synonyms{
		"Count": {"Zählzeit", "Zählzeiten", "Zählweise", "Zählen", "Schlag", "Zeit", "Rhythmus", "Timing"}, "Leader": {"Herr", "Herren", "Mann", "Männer", "Führender", "Führende", "Er"},
		"Follower": {"Dame", "Damen", "Frau", "Frauen", "Folgende", "Folgender", "Sie"}, "Step": {"Schritt", "Nummer", "Schritt Nr"}, "Note": {"Bemerkung", "Bemerkungen", "Anmerkung", "Anmerkungen", "Hinweis"},
		"Alignment": {"Ausrichtung", "Raumrichtung", "Front"}, "Turn": {"Drehung", "Drehumfang"}, "Rise": {"Heben und Senken", "Heben"}, "Footwork": {"Fußarbeit", "Fußtechnik"}, "Sway": {"Neigung"}, "Position": {"Tanzhaltung", "Haltung", "Fassung"},
	},
	facts:    synonyms{"starts": {"Anfang", "Beginn", "beginnt", "Start", "Ausgangsposition", "Anfangsposition"}, "ends": {"Ende", "endet", "Schluss", "Endposition"}, "level": {"Stufe", "Niveau"}, "source": {"Quelle"}, "also called": {"auch genannt", "auch"}},
	settings: synonyms{"dance": {"Tanz"}, "title": {"Titel", "Name"}, "tempo": {"Geschwindigkeit"}, "count": {"Zählweise"}, "floor": {"Fläche", "Saal"}, "music": {"Musik"}, "phrases": {"Phrasen"}},
	sections: synonyms{"order": {"Reihenfolge", "Ablauf", "Folge", "Choreografie", "Choreographie", "Tanzfolge"}},
	dances:   synonyms{"waltz": {"Langsamer Walzer", "Langsamwalzer", "LW"}, "Viennese waltz": {"Wiener Walzer", "WW"}, "foxtrot": {"Slowfox", "langsamer Foxtrott", "Slowfoxtrott"}, "rumba": {"Rumba lateinamerikanisch"}, "Argentine tango": {"argentinischer Tango", "Tango Argentino"}, "social foxtrot": {"Foxtrott", "Fox"}},
}
