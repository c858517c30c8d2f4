/* The demo's places, animals and people. All invented but the species. */
#pragma once

#include <glib.h>

#include "tpt-scene.h"

G_BEGIN_DECLS

/* How the last months of a station went. */
typedef enum {
  DEMO_FINE,       /* visited a week ago, everything fresh */
  DEMO_WANING,     /* batteries not swapped at the last visits */
  DEMO_LOW_CARD,   /* a small card and a busy trail */
  DEMO_CARD_FULL,  /* found full and left so for want of a spare */
  DEMO_DEAD,       /* found dead, nothing to put it right with */
  DEMO_MISSED,     /* not visited for two months */
  DEMO_BROUGHT_IN, /* no rig there at present */
} TptDemoFate;

typedef struct {
  const char *code;
  const char *name;
  double latitude, longitude;
  double elevation_m;
  const char *feature;
  const char *sensitivity;
  gboolean beam;  /* else the camera's own sensor */
  guint flashes;
  gboolean pack;
  double triggers_per_day;
  TptDemoFate fate;
  gboolean sunlit; /* heat behind the trail sets the sensor off */
} TptDemoStation;

typedef struct {
  const char *scientific_name;
  const char *english, *malay, *spanish;
  const char *sensitivity;
  double weight;   /* how common */
  double peak;     /* hour of the day when it is busiest */
  double spread;   /* hours; 12 is all day */
  int size;        /* 1 to 4, for the pictures */
  int group;       /* largest group */
  TptSceneBody body;
} TptDemoSpecies;

extern const TptDemoStation demo_stations[];
extern const guint demo_n_stations;
extern const TptDemoSpecies demo_species[];
extern const guint demo_n_species;

/* Pairs of latitude and longitude, ended by 0, 0. */
typedef struct {
  const char *kind;
  const char *name;
  gboolean area;
  const double *points;
} TptDemoTrack;

extern const TptDemoTrack demo_tracks[];
extern const guint demo_n_tracks;

G_END_DECLS
