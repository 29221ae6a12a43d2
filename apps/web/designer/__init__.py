"""The designer's desk: any dimensions against any outcomes, one point of them standing there, up to four compared."""
