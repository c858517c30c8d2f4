/* What a shelf holds, between its reading and the packing. */
#pragma once

#include "tpt-packing.h"

G_BEGIN_DECLS

/* A spare pack: those of one kind are as good as each other. */
typedef struct {
  const char *chemistry; /* interned (nullable) */
  const char *size;      /* interned (nullable) */
  int series;
} TptSparePack;

/* Cells counted by the piece. */
typedef struct {
  const char *chemistry; /* interned (nullable) */
  const char *size;      /* interned (nullable) */
  guint pieces;
} TptSpareCells;

struct _TptPackShelf {
  gatomicrefcount refs;
  GHashTable *units; /* (owned) (element-type utf8 TptRecord): all units by code */
  GArray *packs;     /* (owned) (element-type TptSparePack) */
  GArray *cells;     /* (owned) (element-type TptSpareCells) */
  guint cards;
  gboolean cards_counted;
};

G_END_DECLS
