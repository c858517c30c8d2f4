#include "config.h"

#include "tpt-starter-list-private.h"

#include "tpt-records.h"

/* Ground-living mammals and birds of lowland Borneo that cameras on trails see.
 * Names and categories from memory; the category is a suggestion for how coarse a
 * place should be told (Chapman 2020), to be set by whoever knows what is hunted
 * where. */
static const TptStarterSpecies list[] = {
  { "Aonyx cinereus", "medium", "Asian small-clawed otter", "Nutria enana", "Memerang kecil" },
  { "Arctictis binturong", "medium", "Binturong", "Binturong", "Binturong" },
  { "Arctogalidia trivirgata", NULL, "Small-toothed palm civet", "Civeta de palmera de tres bandas", "Musang akar" },
  { "Argusianus argus", NULL, "Great argus", "Argos real", "Kuang raya" },
  { "Bos javanicus", "high", "Banteng", "Banteng", "Tembadau" },
  { "Carpococcyx radiceus", "medium", "Bornean ground cuckoo", "Cuco terrestre de Borneo", NULL },
  { "Catopuma badia", "extreme", "Bay cat", "Gato rojo de Borneo", "Kucing merah" },
  { "Chalcophaps indica", NULL, "Common emerald dove", "Palomita esmeralda", "Punai tanah" },
  { "Cynogale bennettii", "high", "Otter civet", "Civeta nutria", "Musang memerang" },
  { "Diplogale hosei", "high", "Hose's civet", "Civeta de Hose", "Musang hitam pudar" },
  { "Echinosorex gymnura", NULL, "Moonrat", "Rata lunar", "Tikus bulan" },
  { "Elephas maximus", "high", "Asian elephant", "Elefante asiático", "Gajah" },
  { "Exilisciurus exilis", NULL, "Least pygmy squirrel", "Ardilla pigmea común", NULL },
  { "Helarctos malayanus", "high", "Sun bear", "Oso malayo", "Beruang madu" },
  { "Hemigalus derbyanus", "low", "Banded civet", "Civeta de bandas", "Musang belang" },
  { "Herpestes brachyurus", NULL, "Short-tailed mongoose", "Mangosta de cola corta", "Bambun ekor pendek" },
  { "Herpestes semitorquatus", "low", "Collared mongoose", "Mangosta de collar", NULL },
  { "Hystrix brachyura", NULL, "Malayan porcupine", "Puercoespín malayo", "Landak raya" },
  { "Hystrix crassispinis", NULL, "Thick-spined porcupine", "Puercoespín de Borneo", "Landak Borneo" },
  { "Lariscus hosei", "low", "Four-striped ground squirrel", "Ardilla terrestre de Hose", NULL },
  { "Lophura bulweri", "high", "Bulwer's pheasant", "Faisán de Bulwer", NULL },
  { "Lophura ignita", NULL, "Bornean crested fireback", "Faisán crestado", "Ayam pegar" },
  { "Macaca fascicularis", NULL, "Long-tailed macaque", "Macaco cangrejero", "Kera" },
  { "Macaca nemestrina", NULL, "Southern pig-tailed macaque", "Macaco cola de cerdo", "Beruk" },
  { "Manis javanica", "extreme", "Sunda pangolin", "Pangolín malayo", "Tenggiling" },
  { "Martes flavigula", NULL, "Yellow-throated marten", "Marta de garganta amarilla", "Mengkira" },
  { "Melanoperdix niger", "low", "Black partridge", "Perdiz negra", NULL },
  { "Muntiacus atherodes", NULL, "Bornean yellow muntjac", "Muntíaco amarillo de Borneo", "Kijang kuning" },
  { "Muntiacus muntjak", NULL, "Southern red muntjac", "Muntíaco rojo", "Kijang" },
  { "Mydaus javanensis", NULL, "Sunda stink badger", "Tejón fétido de la Sonda", "Teledu" },
  { "Neofelis diardi", "high", "Sunda clouded leopard", "Pantera nebulosa de la Sonda", "Harimau dahan" },
  { "Paguma larvata", NULL, "Masked palm civet", "Civeta enmascarada", "Musang lamri" },
  { "Paradoxurus hermaphroditus", NULL, "Common palm civet", "Civeta de palmera común", "Musang pulut" },
  { "Pardofelis marmorata", "high", "Marbled cat", "Gato jaspeado", "Kucing dahan" },
  { "Pitta arquata", "low", "Blue-banded pitta", "Pita bandeada", NULL },
  { "Polyplectron schleiermacheri", "high", "Bornean peacock-pheasant", "Espolonero de Borneo", NULL },
  { "Pongo pygmaeus", "high", "Bornean orangutan", "Orangután de Borneo", "Orang utan" },
  { "Presbytis rubicunda", "medium", "Maroon langur", "Langur rojo", "Lotong merah" },
  { "Prionailurus javanensis", "low", "Sunda leopard cat", "Gato leopardo de la Sonda", "Kucing batu" },
  { "Prionailurus planiceps", "high", "Flat-headed cat", "Gato de cabeza plana", "Kucing hutan" },
  { "Prionodon linsang", "low", "Banded linsang", "Linsang rayado", "Linsang" },
  { "Rheithrosciurus macrotis", "low", "Tufted ground squirrel", "Ardilla terrestre de orejas peludas", NULL },
  { "Rollulus rouloul", NULL, "Crested partridge", "Perdiz rulrul", "Siul" },
  { "Rusa unicolor", NULL, "Sambar", "Sambar", "Rusa" },
  { "Sus barbatus", NULL, "Bearded pig", "Jabalí barbudo", "Babi hutan berjanggut" },
  { "Tragulus kanchil", NULL, "Lesser mouse-deer", "Ciervo ratón menor", "Pelanduk" },
  { "Tragulus napu", NULL, "Greater mouse-deer", "Ciervo ratón mayor", "Napuh" },
  { "Trichys fasciculata", NULL, "Long-tailed porcupine", "Puercoespín de cola larga", "Landak padi" },
  { "Tupaia tana", NULL, "Large treeshrew", "Tupaya grande", "Tupai tanah besar" },
  { "Varanus salvator", NULL, "Water monitor", "Varano acuático", "Biawak air" },
  { "Viverra tangalunga", NULL, "Malay civet", "Civeta malaya", "Musang tenggalung" },
};

/* The island and the islets about it, degrees. */
#define SOUTH -4.6
#define NORTH 7.5
#define WEST 108.5
#define EAST 119.6

static const char *const zones[] = { "Asia/Brunei", "Asia/Kuching", "Asia/Makassar", "Asia/Pontianak", NULL };

const TptStarterSpecies *
tpt_starter_list_get (guint *n)
{
  *n = G_N_ELEMENTS (list);
  return list;
}

TptRecord *
tpt_starter_list_make_record (const TptStarterSpecies *species)
{
  TptRecord *record = tpt_record_new (TPT_TABLE_SPECIES);

  tpt_record_set_text (record, "scientific_name", species->scientific);
  tpt_record_set_text (record, "rank", "species");
  tpt_record_set_text (record, "sensitivity", species->sensitivity);
  tpt_record_set_name (record, "en", species->en);
  if (species->es != NULL)
    tpt_record_set_name (record, "es", species->es);
  if (species->ms != NULL)
    tpt_record_set_name (record, "ms", species->ms);
  return record;
}

gboolean
tpt_starter_list_fits (TptStore *store, gboolean *fits, GError **error)
{
  g_autoptr (GPtrArray) stations = tpt_store_list (store, TPT_TABLE_STATIONS, NULL, NULL, error);
  g_autofree char *zone = tpt_store_get_setting (store, "zone");
  double latitude = 0, longitude = 0;
  guint n = 0;

  if (stations == NULL)
    return FALSE;
  for (guint i = 0; i < stations->len; i++)
    {
      if (!tpt_record_is_set (stations->pdata[i], "latitude"))
        continue;
      latitude += tpt_record_get_real (stations->pdata[i], "latitude");
      longitude += tpt_record_get_real (stations->pdata[i], "longitude");
      n++;
    }
  if (n > 0)
    *fits = latitude / n > SOUTH && latitude / n < NORTH && longitude / n > WEST && longitude / n < EAST;
  else
    *fits = zone != NULL && g_strv_contains (zones, zone);
  return TRUE;
}
