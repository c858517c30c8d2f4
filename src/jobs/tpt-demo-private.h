/* The parts of the demo: lists, what walks by, pictures of it, and the story of
 * each station. */
#pragma once

#include <gio/gio.h>

#include "tpt-demo-cast.h"
#include "tpt-record.h"
#include "tpt-store.h"

G_BEGIN_DECLS

/* The moment the demo's clock stands at: 12 June 2026, 17:00 at the lodge. */
#define TPT_DEMO_NOW G_GINT64_CONSTANT (1781254800000)
#define TPT_DEMO_ZONE "Asia/Kuching"
#define TPT_DEMO_ZONE_MS (8 * TPT_HOUR)

#define TPT_DEMO_BURST_FRAMES 3
#define TPT_DEMO_BURST_MS 900

/* Kinds of numbers drawn, so that none is used twice. */
enum {
  DRAW_GAP = 100,
  DRAW_HOUR,
  DRAW_KIND,
  DRAW_SPECIES,
  DRAW_COUNT,
  DRAW_SPREAD,
  DRAW_PLACE,
  DRAW_VISIT,
  DRAW_METER,
};

typedef struct {
  TptStore *store;
  const char *folder;
  GCancellable *cancellable;
  gint64 observation; /* running number of observations */
  gint64 entry;       /* and of log entries */
} TptDemo;

/* One station while its two years are told. */
typedef struct {
  TptDemo *demo;
  const TptDemoStation *station;
  guint number;
  char *deployment; /* (owned) */
  gint64 deployment_id;
  TptInstant start, end;  /* of the deployment; end: none */
  TptInstant fitted_at;   /* the card now in the camera */
  guint visits, cards;
  gint64 file_number;
  double charge[5];       /* percent: camera, trigger, flash, pack, second flash */
  double frame_mb, card_gb;
} TptDemoStory;

/**
 * TptDemoTrouble: something a visit met.
 * @found: (nullable): what the visit found instead of a rig at work
 * @letter: of the unit it befell; T whichever has a cable
 * @cause: (nullable): not of a cleaning
 * @mended: on the spot
 */
typedef struct {
  double chance;
  const char *found;
  const char *notes;
  char letter;
  const char *what;
  const char *cause;
  gboolean mended;
} TptDemoTrouble;

/* A burst: when it began, and what walked by. */
typedef struct {
  TptInstant at;
  int species; /* index, or -1 blank, -2 person, -3 not looked at yet */
  int animals;
} TptDemoBurst;

/* Writes every record of the two years into @store, inside actions of its own,
 * the pictures on record below @folder/pictures, and the cards below
 * @folder/cards. */
gboolean tpt_demo_fill (TptStore *store, const char *folder, GCancellable *cancellable, GError **error);

gboolean tpt_demo_save (TptDemo *demo, TptRecord *record, GError **error);
char *tpt_demo_unit_code (const char *letter, guint number);
/* (transfer full): of the camera that stands at the station of that number. */
char *tpt_demo_camera_serial (guint station);

/* Stations, tracks, species, units. Inside an action. */
gboolean tpt_demo_write_lists (TptDemo *demo, GError **error);

/* (transfer full) (element-type TptDemoBurst): what passed the station between
 * two moments, by time. @busy raises the rate. */
GArray *tpt_demo_draw_bursts (const TptDemoStory *told, TptInstant from, TptInstant to, double busy);
gboolean tpt_demo_is_night (TptInstant at);

/* The last visit before the moment the demo stands at. */
TptInstant tpt_demo_last_visit (const TptDemoStory *told);

/* (nullable): what the next visit meets. */
const TptDemoTrouble *tpt_demo_draw_trouble (const TptDemoStory *told);

/* The log of the units, inside an action. */
gboolean tpt_demo_write_trouble (TptDemoStory *told, const TptDemoTrouble *trouble, TptInstant at, GError **error);
gboolean tpt_demo_write_losses (TptDemo *demo, GError **error);

/* Stock, and what was done to units at the bench. Inside an action. */
gboolean tpt_demo_write_shelf (TptDemo *demo, GError **error);

/* Draws the pictures of @bursts and puts them on record. Inside an action. */
gboolean tpt_demo_write_batch (TptDemoStory *told, GArray *bursts, GError **error);

/* The cards that came home and wait, and a note about them. */
gboolean tpt_demo_write_cards (TptDemo *demo, GError **error);

G_END_DECLS
