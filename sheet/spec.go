package sheet

import "glidepath/athlete"

// Headings that several kinds of table share. English first, then German,
// French, Spanish, Italian, Portuguese, Dutch, Swedish, Danish, Norwegian,
// Polish and Finnish as far as they differ (from memory).
const (
	dateWords = "date,dates,day,log date,entry date,when,dt,datum,tag,jour,fecha,dia,data,giorno,dag,dato,dzien,paivamaara,pvm"
	noteWords = "notes,note,comment,comments,remark,remarks,memo,notizen,notiz,bemerkung,bemerkungen,kommentar," +
		"commentaire,commentaires,remarques,notas,comentarios,opmerkingen,anteckningar,uwagi"
	exerciseWords = "exercise,exercise name,exercises,lift,lifts,movement,ubung,uebung,exercice,ejercicio,esercizio,exercicio,oefening,ovning,ovelse,cwiczenie"
	setsWords     = "sets,set count,number of sets,no of sets,num sets,satze,saetze,series,serie"
	repsWords     = "reps,rep,repetitions,repetition,reps done,reps completed,wdh,wiederholungen,repeticiones,ripetizioni,repeticoes,herhalingen,repetitioner,powtorzenia"
	rirWords      = "rir,reps in reserve,repetitions in reserve,in reserve"
	rpeWords      = "rpe,set rpe,exertion"
	massWords     = "weight,body weight,bw,wt,weigh in,scale,scale weight,mass,body mass,gewicht,korpergewicht,koerpergewicht," +
		"poids,poids du corps,poids corporel,peso,peso corporal,peso corporeo,lichaamsgewicht,vikt,kroppsvikt,vaegt,kropsvaegt,vekt,kroppsvekt," +
		"waga,masa ciala,paino,kg,lb,lbs"
)

// plannedDomain begins the domain's names of a planned exercise's fields.
const plannedDomain = "weeks.sessions.exercises."

var (
	bodyWeightSpans = []span{{Kg, 35, 220}, {Pound, 77, 485}, {Stone, 5.5, 35}}
	scoreSpans      = []span{{OneToTen, 0, 10}, {OneToFive, 0, 5}}
)

// specs has the fields of each kind of table.
var specs = map[Kind][]spec{
	Days: {
		{field: FieldDate, domain: "date", form: date, words: dateWords},
		{field: FieldWeight, domain: "weight_kg", spans: bodyWeightSpans, words: massWords},
		{
			field: FieldEnergy, domain: "energy_kcal", spans: []span{{Kcal, 500, 7000}, {KJ, 2500, 30000}},
			words: "energy,energy intake,calories,calorie,calorie intake,caloric intake,cals,cal,kcal,kcals,kj,kilojoules,food energy,food," +
				"energie,kalorien,brennwert,kilokalorien,apport calorique,energia,calorias,kilocalorias,kilocalorie,calorieen,kalorier,kalorie",
		},
		{
			field: FieldProtein, domain: "protein_g", spans: []span{{Gram, 10, 600}},
			words: "protein,proteins,prot,pro,p,eiweiss,eiweis,proteine,proteines,proteinas,proteina,eiwit,eiwitten,bialko,proteiini",
		},
		{
			field: FieldCarbohydrate, domain: "carbohydrate_g", spans: []span{{Gram, 0, 1500}},
			words: "carbohydrate,carbohydrates,carbs,carb,cho,c,kohlenhydrate,kohlehydrate,kh,glucides,carbohidratos,hidratos,hidratos de carbono," +
				"carboidrati,carboidratos,koolhydraten,kolhydrater,kulhydrat,kulhydrater,karbohydrater,weglowodany,hiilihydraatit",
		},
		{
			field: FieldFat, domain: "fat_g", spans: []span{{Gram, 0, 500}},
			words: "fat,fats,dietary fat,lipid,lipids,f,fett,fette,lipides,graisses,matieres grasses,grasa,grasas,lipidos,grassi,gordura,gorduras," +
				"vet,vetten,fedt,tluszcz,tluszcze,rasva",
		},
		{
			field: FieldFibre, domain: "fibre_g", spans: []span{{Gram, 0, 150}},
			words: "fibre,fiber,fibres,fibers,dietary fibre,dietary fiber,ballaststoffe,fibras,fibra,vezels,kostfibrer,blonnik",
		},
		{
			field: FieldSodium, domain: "sodium_mg", spans: []span{{Milligram, 150, 20000}, {Gram, 0.15, 20}, {SaltGram, 0.3, 50}},
			words: "sodium,na,natrium,sodio,salt,salz,sel,sal,sale,zout",
		},
		{
			field: FieldSteps, domain: "steps", spans: []span{{Count, 200, 100000}, {Thousand, 0.2, 100}},
			words: "steps,step,step count,daily steps,schritte,schrittzahl,pas,nombre de pas,pasos,passi,passos,stappen,steg,skridt,skritt,kroki,askeleet",
		},
		{
			field: FieldCardio, domain: "cardio_minutes", form: cardio, many: true,
			spans: []span{{Minute, 4, 400}, {Hour, 0.05, 3.9}, {DayFraction, 0.001, 0.049}},
			words: "cardio,cardio minutes,cardio mins,cardio time,cardio duration,cardio session,liss,aerobic,aerobics,ausdauer",
		},
		{
			field: FieldCardioKind, domain: "cardio_kind", form: text, many: true,
			words: "cardio kind,cardio type,type of cardio,kind of cardio,cardio mode,cardio modality,cardio machine,cardio activity,cardio exercise",
		},
		{
			field: FieldCardioSpeed, domain: "cardio_speed", many: true, spans: []span{{KmPerHour, 2, 45}, {MilePerHour, 1.2, 28}},
			words: "cardio speed,speed,walking speed,treadmill speed",
		},
		{
			field: FieldCardioGrade, domain: "cardio_grade", many: true, spans: []span{{Percent, 0, 40}},
			words: "cardio grade,grade,gradient,incline,cardio incline,treadmill incline",
		},
		{
			field: FieldCardioWatts, domain: "cardio_watts", many: true, spans: []span{{Watt, 20, 600}},
			words: "cardio watts,watts,watt,cardio power,power",
		},
		{
			field: FieldCardioStepRate, domain: "cardio_steps_per_min", many: true, spans: []span{{Count, 1, 200}},
			words: "cardio step rate,step rate,stepping rate,stair rate",
		},
		{
			field: FieldCardioStep, domain: "cardio_step_height_cm", many: true, spans: []span{{Cm, 8, 60}, {Inch, 3, 7.9}},
			words: "cardio step height,step height,stair height",
		},
		{field: FieldCardioCode, domain: "cardio_code", form: text, many: true, words: "cardio code,activity code,compendium code"},
		{
			field: FieldCardioClaimed, domain: "cardio_claimed_kcal", many: true, spans: []span{{Kcal, 5, 1500}, {KJ, 1600, 6300}},
			words: "cardio claimed,claimed,cardio energy,cardio calories,cardio calorie,cardio kcal,cardio calories burned,cardio kcal burned," +
				"machine,machine calories,machine kcal,machine energy,machine shows,console,console calories,console kcal,display calories," +
				"watch,watch calories,watch kcal,watch energy,watch shows,tracker calories,tracker kcal",
		},
		{field: FieldCardioBy, domain: "cardio_claimed_by", form: text, many: true, words: "cardio claimed by,claimed by"},
		{
			field: FieldSleep, domain: "sleep_h", spans: []span{{Hour, 1, 18}, {Minute, 60, 1080}, {DayFraction, 0.04, 0.75}},
			words: "sleep,sleep hours,hours slept,hours of sleep,slept,sleep duration,sleep time,time asleep,schlaf,schlafdauer,sommeil,sueno,horas de sueno," +
				"sonno,sono,slaap,somn,sovn,sen",
		},
		{field: FieldHunger, domain: "hunger", spans: scoreSpans, words: "hunger,hunger level,hunger score,hungry,appetite,faim,hambre,fame,fome,honger,glod"},
		{
			field: FieldFatigue, domain: "fatigue", spans: scoreSpans,
			words: "fatigue,fatigue level,fatigue score,tiredness,tired,exhaustion,mudigkeit,muedigkeit,fatiga,stanchezza,fadiga,vermoeidheid,trotthet",
		},
		{
			field: FieldSoreness, domain: "soreness", spans: scoreSpans,
			words: "soreness,sore,muscle soreness,soreness level,soreness score,doms,muskelkater,courbatures,agujetas,indolenzimento,dolores musculares," +
				"dores musculares,spierpijn,traningsvark,muskelsmerter,muskelomhed,stolhet,zakwasy,lihasarkuus",
		},
		{
			field: FieldMotivation, domain: "motivation", spans: scoreSpans,
			words: "motivation,motivation to train,motivation level,motivation score,drive,trainingslust,motivacion,motivazione,motivacao,motivatie," +
				"traningslust,treningslyst,traeningslyst,motywacja,motivaatio",
		},
		{
			field: FieldMood, domain: "mood", spans: scoreSpans,
			words: "mood,mood level,mood score,stimmung,laune,humeur,animo,estado de animo,umore,humor,stemming,humoer,nastroj,mieliala",
		},
		{
			field: FieldPain, domain: "pain", spans: []span{{OneToTen, 0, 10}},
			words: "pain,pain level,pain score,joint pain,schmerz,schmerzen,douleur,dolor,dolore,dor,pijn,smarta,smerte,smerter,bol,kipu",
		},
		{
			field: FieldPainWhere, domain: "pain_where", form: text,
			words: "pain where,where pain,pain place,place of pain,pain location,pain site,pain area,where it hurts,hurts,schmerzort,wo schmerz,ou douleur,donde dolor",
		},
		{
			field: FieldRestingPulse, domain: "resting_pulse", spans: []span{{BeatsPerMin, 25, 150}},
			words: "resting pulse,resting heart rate,resting hr,rest hr,rhr,pulse,heart rate,hr,morning pulse,waking pulse,waking hr,ruhepuls,pouls,pulso,rustpols,vilopuls,hvilepuls",
		},
		{
			field: FieldCycleDay, domain: "cycle_day", spans: []span{{Count, 1, 60}},
			words: "cycle day,cycle,day of cycle,menstrual day,menstrual cycle,menstrual cycle day,period day,cd,zyklustag,jour du cycle",
		},
		{
			field: FieldDayType, domain: "day_type", form: text,
			words: "day type,type of day,type,kind of day,training day,training or rest,tagestyp,type de jour,tipo de dia",
		},
		{field: FieldNotes, domain: "notes", form: text, words: noteWords},
		{field: FieldWeightStands, domain: "weight_stands", form: text, words: "weight stands"},
		{field: FieldWeightStandsBy, domain: "weight_stands", form: text, words: "weight stands by"},
	},
	Training: {
		{field: FieldDate, domain: "date", form: date, words: dateWords},
		{
			field: FieldExercise, domain: "exercise", form: text,
			words: exerciseWords,
		},
		// The spans are alike on purpose: pounds on a bar cannot be told from kilograms.
		{
			field: FieldWeight, domain: "weight_kg", many: true, spans: []span{{Kg, 0, 600}, {Pound, 0, 600}},
			words: "weight,load,bar weight,working weight,weight used,weight lifted,wt,resistance,kg,lb,lbs,gewicht,last,charge,poids,peso,carga,carico,vikt,vaegt,vekt,ciezar",
		},
		{
			field: FieldReps, domain: "reps", form: repsForm, many: true, spans: []span{{Count, 1, 100}},
			words: repsWords,
		},
		{
			field: FieldRIR, domain: "rir", many: true, spans: []span{{Count, 0, 10}},
			words: rirWords,
		},
		{field: FieldRPE, domain: "rir", many: true, spans: []span{{OneToTen, 1, 10}}, words: rpeWords},
		{
			field: FieldSets, domain: "sets", spans: []span{{Count, 1, 20}},
			words: setsWords,
		},
		{field: FieldSide, domain: "side", form: text, words: "side,left right,l r,left or right,limb,seite,cote,lado,lato"},
		{
			field: FieldSessionMinutes, domain: "minutes", spans: []span{{Minute, 10, 400}, {Hour, 0.15, 5}, {DayFraction, 0.005, 0.14}},
			words: "session minutes,session mins,session duration,session length,session time,duration,workout duration,workout minutes,workout time," +
				"training duration,training minutes,training time,minutes,mins,dauer,duree,duracion,durata,duur",
		},
		{
			field: FieldSessionRPE, domain: "rpe", spans: []span{{OneToTen, 0, 10}},
			words: "session rpe,srpe,workout rpe,rpe session,rpe of session,training rpe,session exertion",
		},
		{field: FieldNotes, domain: "notes", form: text, words: noteWords},
	},
	Programmes: {
		{field: FieldWeek, form: text, words: "week,weeks,week number,week no,wk,woche,semaine,semana,settimana,vecka,uge,uke,tydzien,viikko"},
		{
			field: FieldDay, form: text,
			words: "day,day of week,weekday,training day,tag,wochentag,trainingstag,jour,dia,giorno,dag,ukedag,ugedag,veckodag,dzien,paiva",
		},
		{
			field: FieldSession, form: text,
			words: "session,session name,workout,workout name,training,split,einheit,trainingseinheit,seance,sesion,seduta,sessao,sessie,pass,okt,trening,harjoitus",
		},
		{field: FieldDeload, form: text, words: "deload,deload week"},
		{field: FieldExercise, domain: plannedDomain + "exercise", form: text, words: exerciseWords},
		{field: FieldSets, domain: plannedDomain + "sets", spans: []span{{Count, 1, 20}}, words: setsWords + ",target sets,planned sets"},
		{field: FieldReps, domain: plannedDomain + "reps", form: text, words: repsWords + ",rep range,reps range,range,target reps,planned reps"},
		{field: FieldRIR, domain: plannedDomain + "rir", spans: []span{{Count, 0, 10}}, words: rirWords + ",target rir,planned rir"},
		{field: FieldRPE, domain: plannedDomain + "rir", spans: []span{{OneToTen, 1, 10}}, words: rpeWords + ",target rpe,planned rpe"},
		{
			field: FieldRest, domain: plannedDomain + "rest", spans: []span{{Second, bareSeconds, 900}, {Minute, 0.25, 15}},
			words: "rest,rest time,rest period,rest between sets,pause,satzpause,repos,descanso,recupero,rust,vila,pausa,hvile,przerwa,lepo",
		},
		{field: FieldNotes, domain: plannedDomain + "notes", form: text, words: noteWords},
		{field: FieldSessionNotes, form: text, words: "session notes,session note,workout notes"},
	},
	Measurements: append([]spec{
		{field: FieldDate, domain: "date", form: date, words: dateWords},
		{field: FieldMethod, domain: "method", form: text, words: "method,methode,metodo,how,technique,measured how,test,test method"},
		{field: FieldBy, domain: "by", form: text, words: "by,measured by,taken by,tested by,tester,assessor,operator,hands,device,who,durch,par,por,door"},
		{
			field: FieldBodyFat, domain: "body_fat_pct", spans: []span{{Percent, 2, 60}, {Fraction, 0.02, 0.6}},
			words: "body fat,body fat %,bf,bf %,fat %,fat percentage,body fat percentage,body fat percent,fat pct,%,korperfett,koerperfett," +
				"korperfettanteil,kfa,masse grasse,taux de graisse,grasa corporal,grasso corporeo,gordura corporal,vetpercentage,kroppsfett,fedtprocent,rasvaprosentti",
		},
		{field: FieldWeight, domain: "weight_kg", spans: bodyWeightSpans, words: massWords},
		{field: FieldNotes, domain: "note", form: text, words: noteWords},
	}, siteSpecs()...),
}

// girthSpans are plausible girths of adults in cm; in inches they do not overlap.
var girthSpans = map[string]span{
	"neck": {Cm, 27, 55}, "abdomen": {Cm, 55, 135}, "waist": {Cm, 53, 132}, "hip": {Cm, 70, 150},
	"arm": {Cm, 22, 55}, "thigh": {Cm, 40, 95}, "calf": {Cm, 27, 60}, "chest": {Cm, 66, 160},
}

// siteSpecs has a field for each skinfold and girth of the domain. Their
// headings are matched by siteOf, not by words.
func siteSpecs() []spec {
	var out []spec
	for _, site := range athlete.FoldSites() {
		out = append(out, spec{field: Field(foldPrefix + site), domain: "folds_mm." + site, spans: []span{{Mm, 1, 90}}})
	}
	for _, site := range athlete.GirthSites() {
		cm := girthSpans[site]
		inches := span{Inch, cm.low / athlete.CmPerInch, cm.high / athlete.CmPerInch}
		out = append(out, spec{field: Field(girthPrefix + site), domain: "girths_cm." + site, spans: []span{cm, inches}})
	}
	return out
}
