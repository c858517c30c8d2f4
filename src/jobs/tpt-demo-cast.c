#include "tpt-demo-cast.h"

/* An invented lodge on an invented river somewhere in lowland Borneo. */
const TptDemoStation demo_stations[] = {
  { "LAND", "Old landing", 2.4046, 113.0142, 62, "river bank", NULL, FALSE, 1, FALSE, 1.0, DEMO_FINE },
  { "WALL", "Pig wallow", 2.4093, 113.0186, 71, "wallow", NULL, TRUE, 2, TRUE, 1.7, DEMO_WANING },
  { "OTTE", "Otter bank", 2.4128, 113.0243, 66, "water", "medium", TRUE, 2, TRUE, 1.2, DEMO_WANING },
  { "SALT", "Salt lick", 2.4150, 113.0302, 84, "salt lick", "medium", TRUE, 2, TRUE, 1.6, DEMO_DEAD },
  { "MOSS", "Mossy steps", 2.4186, 113.0371, 131, "trail", NULL, FALSE, 1, FALSE, 0.7, DEMO_FINE },
  { "RIDG", "Ridge saddle", 2.4231, 113.0437, 214, "ridge trail", NULL, FALSE, 1, FALSE, 0.8, DEMO_MISSED },
  { "FIGB", "Fig bend", 2.4071, 113.0315, 70, "fruiting tree", NULL, TRUE, 1, TRUE, 2.2, DEMO_CARD_FULL },
  { "TWIN", "Twin logs", 2.4033, 113.0378, 77, "log bridge", NULL, FALSE, 1, FALSE, 0.9, DEMO_WANING },
  { "KAPU", "Kapur gate", 2.3992, 113.0424, 93, "trail", NULL, FALSE, 1, FALSE, 0.8, DEMO_FINE, TRUE },
  { "EAST", "East stream", 2.4259, 113.0265, 88, "stream", NULL, FALSE, 0, FALSE, 0.7, DEMO_FINE },
  { "HORN", "Hornbill gap", 2.4304, 113.0338, 156, "trail", NULL, FALSE, 1, FALSE, 0.6, DEMO_FINE },
  { "SAND", "Sandbar", 2.3975, 113.0213, 60, "river bank", "medium", TRUE, 1, TRUE, 2.0, DEMO_LOW_CARD },
  { "DURI", "Durian flat", 2.4012, 113.0281, 68, "fruiting tree", NULL, TRUE, 2, TRUE, 1.4, DEMO_FINE },
  { "SWAM", "Swamp boards", 2.4108, 113.0098, 58, "boardwalk", NULL, FALSE, 0, FALSE, 0.9, DEMO_BROUGHT_IN },
  { "CAVE", "Cave mouth", 2.4340, 113.0411, 241, "cave", "medium", TRUE, 1, TRUE, 1.0, DEMO_FINE },
};
const guint demo_n_stations = G_N_ELEMENTS (demo_stations);

/* Species of the region; names, hours and commonness from memory. */
const TptDemoSpecies demo_species[] = {
  { "Sus barbatus", "Bearded pig", "Babi hutan berjanggut", "Jabalí barbudo", NULL, 30, 9, 12, 3, 6, TPT_BODY_PIG },
  { "Tragulus kanchil", "Lesser mouse-deer", "Pelanduk", "Ciervo ratón menor", NULL, 18, 6, 5, 1, 1, TPT_BODY_MOUSE_DEER },
  { "Macaca nemestrina", "Southern pig-tailed macaque", "Beruk", "Macaco cola de cerdo", NULL, 14, 11, 3.5, 2, 5, TPT_BODY_MACAQUE },
  { "Viverra tangalunga", "Malay civet", "Musang tenggalung", "Civeta malaya", NULL, 11, 23, 3.5, 2, 1, TPT_BODY_CIVET },
  { "Muntiacus muntjak", "Southern red muntjac", "Kijang", "Muntíaco rojo", NULL, 10, 8, 5, 3, 2, TPT_BODY_MUNTJAC },
  { "Argusianus argus", "Great argus", "Kuang raya", "Argos real", NULL, 7, 10, 3, 2, 1, TPT_BODY_ARGUS },
  { "Hystrix brachyura", "Malayan porcupine", "Landak raya", "Puercoespín malayo", NULL, 7, 1, 3, 2, 2, TPT_BODY_PORCUPINE },
  { "Rusa unicolor", "Sambar", "Rusa", "Sambar", NULL, 6, 3, 5, 4, 2, TPT_BODY_SAMBAR },
  { "Helarctos malayanus", "Sun bear", "Beruang madu", "Oso malayo", "high", 4, 13, 6, 3, 1, TPT_BODY_BEAR },
  { "Lophura ignita", "Bornean crested fireback", "Ayam pegar", "Faisán crestado", NULL, 4, 9, 3, 1, 4, TPT_BODY_FIREBACK },
  { "Prionailurus javanensis", "Sunda leopard cat", "Kucing batu", "Gato leopardo de la Sonda", "low", 3.5, 0, 4, 1, 1, TPT_BODY_CAT },
  { "Aonyx cinereus", "Asian small-clawed otter", "Memerang kecil", "Nutria enana", "medium", 3, 17, 3, 1, 5, TPT_BODY_OTTER },
  { "Hemigalus derbyanus", "Banded civet", "Musang belang", "Civeta de bandas", "low", 2.5, 22, 3, 1, 1, TPT_BODY_BANDED_CIVET },
  { "Neofelis diardi", "Sunda clouded leopard", "Harimau dahan", "Pantera nebulosa de la Sonda", "high", 0.9, 20, 6, 3, 1, TPT_BODY_CAT },
  { "Pardofelis marmorata", "Marbled cat", "Kucing dahan", "Gato jaspeado", "high", 0.5, 15, 5, 1, 1, TPT_BODY_CAT },
  { "Manis javanica", "Sunda pangolin", "Tenggiling", "Pangolín malayo", "extreme", 0.4, 2, 3, 1, 1, TPT_BODY_PANGOLIN },
};
const guint demo_n_species = G_N_ELEMENTS (demo_species);

static const double river[] = {
  2.4065, 113.0040, 2.4058, 113.0081, 2.4050, 113.0118, 2.4037, 113.0150, 2.4010, 113.0178, 2.3984, 113.0199, 2.3968, 113.0228,
  2.3979, 113.0262, 2.4003, 113.0291, 2.4038, 113.0312, 2.4062, 113.0339, 2.4069, 113.0377, 2.4058, 113.0418, 2.4065, 113.0462,
  2.4082, 113.0510, 0, 0,
};
static const double stream[] = {
  2.4391, 113.0233, 2.4340, 113.0252, 2.4287, 113.0258, 2.4240, 113.0270, 2.4195, 113.0262, 2.4152, 113.0250, 2.4118, 113.0256,
  2.4088, 113.0278, 2.4052, 113.0316, 0, 0,
};
static const double ridge_trail[] = {
  2.4049, 113.0139, 2.4070, 113.0160, 2.4092, 113.0187, 2.4111, 113.0215, 2.4127, 113.0242, 2.4142, 113.0276, 2.4151, 113.0303,
  2.4166, 113.0338, 2.4187, 113.0370, 2.4209, 113.0402, 2.4232, 113.0437, 2.4262, 113.0460, 0, 0,
};
static const double flat_trail[] = {
  2.4049, 113.0139, 2.4022, 113.0201, 2.4010, 113.0243, 2.4013, 113.0282, 2.4026, 113.0330, 2.4033, 113.0379, 2.4012, 113.0407,
  2.3992, 113.0425, 0, 0,
};
static const double north_trail[] = {
  2.4142, 113.0276, 2.4189, 113.0258, 2.4230, 113.0254, 2.4258, 113.0266, 2.4281, 113.0300, 2.4304, 113.0338, 2.4321, 113.0376,
  2.4341, 113.0411, 0, 0,
};
static const double swamp_walk[] = {
  2.4049, 113.0139, 2.4071, 113.0121, 2.4092, 113.0109, 2.4109, 113.0097, 0, 0,
};
static const double lodge_land[] = {
  2.3935, 113.0065, 2.3935, 113.0480, 2.4180, 113.0520, 2.4375, 113.0470, 2.4395, 113.0230, 2.4250, 113.0080, 2.4100, 113.0040,
  2.3935, 113.0065, 0, 0,
};
static const double oxbow[] = {
  2.4092, 113.0058, 2.4112, 113.0064, 2.4126, 113.0079, 2.4121, 113.0088, 2.4105, 113.0080, 2.4090, 113.0070, 2.4092, 113.0058, 0, 0,
};

const TptDemoTrack demo_tracks[] = {
  { "river", "Kelabau river", FALSE, river },
  { "river", "East stream", FALSE, stream },
  { "trail", "Ridge trail", FALSE, ridge_trail },
  { "trail", "Flat trail", FALSE, flat_trail },
  { "trail", "North trail", FALSE, north_trail },
  { "trail", "Swamp walk", FALSE, swamp_walk },
  { "water", "Oxbow", TRUE, oxbow },
  { "boundary", "Lodge land", TRUE, lodge_land },
};
const guint demo_n_tracks = G_N_ELEMENTS (demo_tracks);
